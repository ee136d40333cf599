#include "audit/week.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <numeric>
#include <set>
#include <tuple>

#include "audit/at_once.hpp"
#include "audit/drift.hpp"
#include "audit/likeness.hpp"
#include "audit/week_samples.hpp"
#include "audit/withdrawn.hpp"
#include "measure/distributions.hpp"
#include "units/calendar.hpp"

namespace wm::audit {

namespace {

bool is_severe(const CheckCards& cards, const std::string& check) {
    const auto found = cards.find(check);
    return found != cards.end() && found->second.severity == 'H';
}

struct Count {
    Tally tally;
    std::vector<std::string> jobs;
    std::int64_t inconclusive = 0;

    void add(bool failed, bool doubtful, const std::string& job) {
        ++tally.tries;
        inconclusive += doubtful ? 1 : 0;
        if (!failed) return;
        ++tally.failed;
        if (jobs.empty() || jobs.back() != job) jobs.push_back(job);
    }
};

ShareRow share_row(std::string subject, std::string check, const Count& count) {
    const auto interval = wilson(count.tally);
    return {std::move(subject), std::move(check), count.tally, interval ? *interval : Interval{}, count.jobs,
            count.inconclusive};
}

void most_failures_first(std::vector<ShareRow>& rows) {
    std::stable_sort(rows.begin(), rows.end(),
                     [](const ShareRow& a, const ShareRow& b) { return a.tally.failed > b.tally.failed; });
}

/// The jobs of some weeks that end with one.
std::vector<std::size_t> jobs_in(const Columns& columns, const std::string& monday, int weeks) {
    std::vector<bool> counts(columns.names().week.size());
    for (int back = 0; back < weeks; ++back) {
        const auto day = units::day_after(monday, -7 * back);
        const auto name = day ? units::week_of(*day) : std::nullopt;
        if (const auto code = name ? columns.names().week.find(*name) : std::nullopt) counts[*code] = true;
    }
    std::vector<std::size_t> jobs;
    for (std::size_t job = 0; job < columns.job_count(); ++job)
        if (counts[columns.codes(job).week]) jobs.push_back(job);
    return jobs;
}

/// The counts of a week under small numbers; names come in at the end.
struct WeekCounts {
    explicit WeekCounts(const Columns& columns) : checks(columns.names().check.size()), behind(columns.names().check.size()) {
        for (Code check = 0; check < behind.size(); ++check)
            for (const auto name : materials_behind(columns.names().check.text(check)))
                if (const auto material = columns.names().material.find(name)) behind[check].push_back(*material);
    }

    std::vector<Count> checks;
    std::vector<std::vector<Code>> behind;  ///< materials behind each check
    std::map<Code, Count> crews;
    std::map<std::pair<Code, Code>, Count> crew_checks;
    std::map<std::tuple<Code, Code, Code>, Count> batches;  ///< material, batch, check
};

void count_job(Week& week, WeekCounts& counts, const Columns& columns, std::size_t job) {
    const auto& number = columns.card(job).job;
    const auto crew = columns.codes(job).crew;
    const auto range = columns.results_of(job);
    if (range.last > range.first) {
        ++week.jobs;
        week.looked_at.push_back(number);
    }
    for (auto row = range.first; row < range.last; ++row) {
        const auto check = columns.results().check[row];
        const bool failed = columns.failed(row);
        const bool doubtful = columns.inconclusive(row);
        ++week.results;
        week.inconclusive += doubtful ? 1 : 0;
        counts.checks[check].add(failed, doubtful, number);
        counts.crews[crew].add(failed, doubtful, number);
        counts.crew_checks[{crew, check}].add(failed, doubtful, number);
        for (const auto material : counts.behind[check])
            for (const auto& [name, batch] : columns.batches(job))
                if (name == material) counts.batches[{material, batch, check}].add(failed, doubtful, number);
    }
}

bool by_name(const ShareRow& a, const ShareRow& b) { return a.subject != b.subject ? a.subject < b.subject : a.check < b.check; }

void count_shares(Week& week, const Columns& columns, const std::vector<std::size_t>& jobs) {
    WeekCounts counts{columns};
    const auto& names = columns.names();
    for (const auto job : jobs) count_job(week, counts, columns, job);
    for (Code check = 0; check < counts.checks.size(); ++check)
        if (counts.checks[check].tally.failed > 0) week.by_check.push_back(share_row("", names.check.text(check), counts.checks[check]));
    for (const auto& [crew, count] : counts.crews) week.by_crew.push_back(share_row(names.crew.text(crew), "", count));
    for (const auto& [key, part] : counts.crew_checks)
        if (part.tally.failed > 0) week.by_crew.push_back(share_row(names.crew.text(key.first), names.check.text(key.second), part));
    for (const auto& [key, count] : counts.batches) {
        const auto& [material, batch, check] = key;
        week.by_batch.push_back(share_row(names.material.text(material) + " " + names.batch.text(batch), names.check.text(check), count));
    }
    for (auto* rows : {&week.by_check, &week.by_crew, &week.by_batch}) std::sort(rows->begin(), rows->end(), by_name);
    most_failures_first(week.by_check);
    most_failures_first(week.by_batch);
}

void list_severe(Week& week, const Columns& columns, const CheckCards& cards, const std::vector<std::size_t>& jobs) {
    for (const auto job : jobs) {
        const auto range = columns.results_of(job);
        for (auto row = range.first; row < range.last; ++row) {
            if (!columns.failed(row) && !columns.inconclusive(row)) continue;
            const auto result = columns.result(job, row);
            if (is_severe(cards, result.check)) week.severe.push_back({columns.card(job).job, result.check, result.outcome, result.corrected});
        }
    }
}

void list_open(Week& week, const AuditTable& table, const std::string& last_day) {
    for (const auto& item : table.open) {
        const int age = units::days_between(item.since, last_day).value_or(0);
        if (age < 0) continue;
        week.open.push_back({table.jobs[item.job].job, item.check, item.owner, item.what, age});
    }
    std::stable_sort(week.open.begin(), week.open.end(),
                     [](const OpenRow& a, const OpenRow& b) { return a.age_days > b.age_days; });
}

std::vector<GaugePoint> points_of(const GaugeDrift& drift) {
    constexpr double decision = 5.0;
    std::vector<GaugePoint> points;
    for (std::size_t i = 0; i < drift.days.size() && i < drift.sums.upward.size(); ++i) {
        const double up = drift.sums.upward[i];
        const double down = drift.sums.downward[i];
        points.push_back({drift.days[i], drift.differences[i], up >= down ? up : -down, std::max(up, down) > decision, drift.jobs[i]});
    }
    return points;
}

void list_gauges(Week& week, const std::vector<GaugeDrift>& drifts) {
    constexpr std::ptrdiff_t recent = 8;
    for (const auto& drift : drifts) {
        const auto from = drift.differences.end() - std::min(recent, std::ssize(drift.differences));
        const auto n = static_cast<double>(drift.differences.end() - from);
        const double mean = std::accumulate(from, drift.differences.end(), 0.0) / n;
        const double half = measure::normal_quantile(0.975) * drift.deviation / std::sqrt(n);
        week.gauges.push_back({.instrument = drift.instrument,
                               .readings = static_cast<int>(drift.differences.size()),
                               .recent_kpa = mean,
                               .recent = {mean - half, mean + half},
                               .highest = drift.highest,
                               .signal_since = drift.sums.first_signal ? drift.days[*drift.sums.first_signal] : "",
                               .p = drift.p,
                               .scatter_kpa = drift.deviation,
                               .points = points_of(drift)});
    }
}

}  // namespace

std::vector<std::string> weeks_of(const Columns& columns) {
    std::vector<bool> there(columns.names().week.size());
    for (std::size_t job = 0; job < columns.job_count(); ++job) there[columns.codes(job).week] = true;
    std::vector<std::string> weeks;
    for (Code code = 0; code < there.size(); ++code)
        if (there[code] && !columns.names().week.text(code).empty()) weeks.push_back(columns.names().week.text(code));
    std::sort(weeks.begin(), weeks.end());
    return weeks;
}

namespace {

// What can hurt someone and still waits stands on top in each week until it is done, not only in its own.
void add_open_severe(Week& week, const CheckCards& cards) {
    for (const auto& item : week.open) {
        if (!is_severe(cards, item.check)) continue;
        const auto there = std::find_if(week.severe.begin(), week.severe.end(), [&](const SevereRow& row) {
            return row.job == item.job && row.check == item.check;
        });
        auto words = fmt::format("{}, open for {} days", item.what, item.age_days);
        if (there == week.severe.end()) week.severe.push_back({item.job, item.check, std::move(words), false});
        else if (is_withdrawn(item.what)) there->outcome = std::move(words);  // "open" alone would not say why
    }
    // What still can hurt someone before what was put right.
    std::stable_partition(week.severe.begin(), week.severe.end(), [](const SevereRow& row) { return !row.corrected; });
}

}  // namespace

namespace {

/// Takes away what no job of the part stands behind.
class Relevant {
public:
    Relevant(const Columns& part, const Filter& filter) : filter_{filter} {
        if (filter.is_empty()) return;
        for (const auto& job : part.rest().jobs) jobs_.insert(job.job);
        for (const auto& gauge : part.rest().gauges) gauges_.insert(gauge.instrument);
    }
    [[nodiscard]] bool operator()(const std::string& check, const std::vector<std::string>& jobs) const {
        if (filter_.is_empty()) return true;
        if (!filter_.check.empty() && check != filter_.check) return false;
        return std::any_of(jobs.begin(), jobs.end(), [&](const std::string& job) { return jobs_.contains(job); });
    }
    [[nodiscard]] bool operator()(const GaugeRow& gauge) const { return filter_.is_empty() || gauges_.contains(gauge.instrument); }

private:
    const Filter& filter_;
    std::set<std::string_view> jobs_, gauges_;
};

}  // namespace

Week week_audit(const Columns& all, const CheckCards& cards, const std::string& week_name, const WeekSettings& settings) {
    Week week;
    week.week = week_name;
    const auto monday = units::monday_of(week_name);
    if (!monday) return week;
    const Columns part = settings.filter.is_empty() ? Columns{} : filtered(all, settings.filter);
    const Columns& columns = settings.filter.is_empty() ? all : part;
    const auto jobs = jobs_in(columns, *monday, settings.weeks);
    const auto last_day = units::day_after(*monday, 6).value_or(*monday);
    const auto first_day = units::day_after(last_day, -7 * settings.weeks_back + 1).value_or("");
    const auto first_day_of_week = units::day_after(*monday, -7 * (settings.weeks - 1)).value_or(*monday);
    // Each looks at the columns alone and none at another's result.
    constexpr std::size_t worth_a_thread = 50'000;
    const Spread spread = all.results().check.size() < worth_a_thread ? Spread::No : Spread::Yes;
    auto gauges = beside(spread, [&] { return gauge_drifts(all.rest(), first_day, last_day); });
    auto questions = beside(spread, [&] {
        return observations_of(all, cards,
                               {.first_day = first_day,
                                .last_day = last_day,
                                .first_recent_day = units::day_after(last_day, -7 * 8 + 1).value_or(""),
                                .first_day_of_week = first_day_of_week,
                                .links = settings.links});
    });
    auto complaints = beside(spread, [&] { return complaint_traces(all, settings.links, first_day_of_week, last_day); });
    count_shares(week, columns, jobs);
    list_severe(week, columns, cards, jobs);
    list_open(week, columns.rest(), last_day);
    add_open_severe(week, cards);
    const Relevant relevant{part, settings.filter};
    const auto drifts = gauges.get();
    week.findings = findings_of(all, cards,
                                {.first_day = first_day,
                                 .last_day = last_day,
                                 .level = settings.q_shown,
                                 .p_clear = settings.p_clear,
                                 .least_tries = settings.least_tries,
                                 .links = settings.links,
                                 .spread = spread},
                                drifts);
    std::erase_if(week.findings, [&](const Finding& one) { return !relevant(one.check, one.jobs); });
    week.questions = questions.get();
    week.complaints = complaints.get();
    std::erase_if(week.complaints, [&](const ComplaintTrace& one) { return !relevant("", {all.card(all.rest().complaints[one.row].job).job}); });
    std::erase_if(week.questions, [&](const Observation& one) { return !relevant(one.check, one.jobs); });
    week.ageing = ageing_of(columns.rest(), first_day, last_day);
    list_gauges(week, drifts);
    std::erase_if(week.gauges, [&](const GaugeRow& one) { return !relevant(one); });
    draw_samples(week, columns, cards, {first_day, first_day_of_week, last_day, settings.seed});
    return week;
}

}  // namespace wm::audit
