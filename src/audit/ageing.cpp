#include "audit/ageing.hpp"

#include <algorithm>
#include <map>

#include "audit/survival.hpp"
#include "units/calendar.hpp"

namespace wm::audit {

std::vector<AgeingRow> ageing_of(const AuditTable& table, const std::string& first_day, const std::string& last_day,
                                 int forgotten_after_days) {
    struct Crew {
        AgeingRow row;
        std::vector<OpenTime> times;
    };
    std::vector<const DeferralRow*> oldest_first;
    for (const auto& row : table.deferrals)
        if (row.since >= first_day && row.since <= last_day) oldest_first.push_back(&row);
    std::stable_sort(oldest_first.begin(), oldest_first.end(),
                     [](const DeferralRow* a, const DeferralRow* b) { return a->since < b->since; });
    std::map<std::string, Crew> crews;
    for (const auto* deferral : oldest_first) {
        const auto& job = table.jobs[deferral->job];
        auto& [row, times] = crews[job.crew];
        row.crew = job.crew;
        ++row.put_off;
        const bool open = deferral->closed.empty() || deferral->closed > last_day;
        const auto days = units::days_between(deferral->since, open ? last_day : deferral->closed);
        if (!days || *days < 0) continue;
        times.push_back({static_cast<double>(*days), open ? Ending::StillOpen : Ending::Closed});
        if (!open) continue;
        ++row.open;
        row.oldest_days = std::max(row.oldest_days, *days);
        if (*days <= forgotten_after_days) continue;
        ++row.forgotten;
        if (row.jobs.empty() || row.jobs.back() != job.job) row.jobs.push_back(job.job);
    }
    std::vector<AgeingRow> rows;
    for (auto& [crew, counted] : crews) {
        if (const auto curve = product_limit(counted.times)) counted.row.median_days = curve->median;
        rows.push_back(std::move(counted.row));
    }
    std::stable_sort(rows.begin(), rows.end(), [](const AgeingRow& a, const AgeingRow& b) { return a.forgotten > b.forgotten; });
    return rows;
}

}  // namespace wm::audit
