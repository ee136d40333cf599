#include "audit/week.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <numeric>
#include <random>
#include <set>

#include "audit/drift.hpp"
#include "audit/likeness.hpp"
#include "audit/sampling.hpp"
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

    void add(const CheckResult& result, const std::string& job) {
        ++tally.tries;
        inconclusive += result.inconclusive ? 1 : 0;
        if (!result.failed) return;
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

void count_shares(Week& week, const AuditTable& table) {
    std::map<std::string, Count> checks;
    std::map<std::string, Count> crews;
    std::map<std::pair<std::string, std::string>, Count> crew_checks;
    std::map<std::pair<std::string, std::string>, Count> batches;
    std::set<std::size_t> jobs;
    for (const auto& result : table.results) {
        const auto& job = table.jobs[result.job];
        if (job.week != week.week) continue;
        jobs.insert(result.job);
        ++week.results;
        week.inconclusive += result.inconclusive ? 1 : 0;
        checks[result.check].add(result, job.job);
        crews[job.crew].add(result, job.job);
        crew_checks[{job.crew, result.check}].add(result, job.job);
        for (const auto& [kind, batch] : job.batches) {
            const auto behind = materials_behind(result.check);
            if (std::find(behind.begin(), behind.end(), kind) != behind.end())
                batches[{kind + " " + batch, result.check}].add(result, job.job);
        }
    }
    week.jobs = static_cast<int>(jobs.size());
    for (const auto& [check, count] : checks)
        if (count.tally.failed > 0) week.by_check.push_back(share_row("", check, count));
    most_failures_first(week.by_check);
    for (const auto& [crew, count] : crews) {
        week.by_crew.push_back(share_row(crew, "", count));
        for (const auto& [key, part] : crew_checks)
            if (key.first == crew && part.tally.failed > 0) week.by_crew.push_back(share_row(crew, key.second, part));
    }
    for (const auto& [key, count] : batches) week.by_batch.push_back(share_row(key.first, key.second, count));
    most_failures_first(week.by_batch);
}

void list_severe(Week& week, const AuditTable& table, const CheckCards& cards) {
    for (const auto& result : table.results) {
        const auto& job = table.jobs[result.job];
        if (job.week != week.week || !(result.failed || result.inconclusive) || !is_severe(cards, result.check)) continue;
        week.severe.push_back({job.job, result.check, result.outcome, result.corrected});
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

void list_gauges(Week& week, const AuditTable& table, const std::string& first_day, const std::string& last_day) {
    constexpr std::ptrdiff_t recent = 8;
    for (const auto& drift : gauge_drifts(table, first_day, last_day)) {
        const auto from = drift.differences.end() - std::min(recent, std::ssize(drift.differences));
        const auto n = static_cast<double>(drift.differences.end() - from);
        week.gauges.push_back({.instrument = drift.instrument,
                               .readings = static_cast<int>(drift.differences.size()),
                               .recent_kpa = std::accumulate(from, drift.differences.end(), 0.0) / n,
                               .highest = drift.highest,
                               .signal_since = drift.sums.first_signal ? drift.days[*drift.sums.first_signal] : "",
                               .p = drift.p});
    }
}

void draw_samples(Week& week, const AuditTable& table, const CheckCards& cards, const WeekSettings& settings) {
    std::set<std::string> taken;
    const auto take = [&](const std::string& job, std::string why) {
        if (taken.insert(job).second) week.samples.push_back({job, std::move(why)});
    };
    for (const auto& row : week.severe) take(row.job, fmt::format("a failure that can hurt someone: {}", title_of(cards, row.check)));
    std::vector<std::string> finished;
    for (const auto& job : table.jobs)
        if (job.week == week.week) finished.push_back(job.job);
    std::mt19937_64 random{settings.seed ^ (finished.size() * 0x9E3779B97F4A7C15ULL)};
    // std::shuffle differs between libraries; this order does not.
    for (std::size_t i = finished.size(); i > 1; --i) std::swap(finished[i - 1], finished[random() % i]);
    const auto wanted = weekly_sample(static_cast<std::int64_t>(finished.size()));
    std::int64_t drawn = 0;
    for (const auto& job : finished) {
        if (!wanted || drawn >= *wanted) break;
        if (taken.contains(job)) continue;
        take(job, fmt::format("drawn at random, seed {}", settings.seed));
        ++drawn;
    }
    for (const auto& finding : week.findings) {
        if (finding.jobs.empty()) continue;
        auto why = "newest job behind a finding: " + title_of(cards, finding.check);
        if (!finding.subject.empty()) why += " of " + finding.subject;
        take(finding.jobs.back(), std::move(why));
    }
    for (const auto& question : week.questions)
        if (!question.jobs.empty()) take(question.jobs.back(), fmt::format("to answer a question: {}, {}", question.kind, question.subject));
}

}  // namespace

std::vector<std::string> weeks_of(const AuditTable& table) {
    std::set<std::string> weeks;
    for (const auto& job : table.jobs)
        if (!job.week.empty()) weeks.insert(job.week);
    return {weeks.begin(), weeks.end()};
}

namespace {

// What can hurt someone and still waits stands on top in each week until it is done, not only in its own.
void add_open_severe(Week& week, const CheckCards& cards) {
    for (const auto& item : week.open) {
        if (!is_severe(cards, item.check)) continue;
        const bool there = std::any_of(week.severe.begin(), week.severe.end(), [&](const SevereRow& row) {
            return row.job == item.job && row.check == item.check;
        });
        if (!there)
            week.severe.push_back({item.job, item.check, fmt::format("{}, open for {} days", item.what, item.age_days), false});
    }
}

}  // namespace

Week week_audit(const AuditTable& table, const CheckCards& cards, const std::string& week_name,
                const WeekSettings& settings) {
    Week week;
    week.week = week_name;
    const auto monday = units::monday_of(week_name);
    if (!monday) return week;
    const auto last_day = units::day_after(*monday, 6).value_or(*monday);
    count_shares(week, table);
    list_severe(week, table, cards);
    list_open(week, table, last_day);
    add_open_severe(week, cards);
    const auto first_day = units::day_after(last_day, -7 * settings.weeks_back + 1).value_or("");
    week.findings = findings_of(table, cards,
                                {.first_day = first_day,
                                 .last_day = last_day,
                                 .level = settings.q_shown,
                                 .p_clear = settings.p_clear,
                                 .least_tries = settings.least_tries});
    week.questions = observations_of(table, cards,
                                     {.first_day = first_day,
                                      .last_day = last_day,
                                      .first_recent_day = units::day_after(last_day, -7 * 8 + 1).value_or(""),
                                      .first_day_of_week = *monday});
    week.ageing = ageing_of(table, first_day, last_day);
    list_gauges(week, table, first_day, last_day);
    draw_samples(week, table, cards, settings);
    return week;
}

}  // namespace wm::audit
