#include "audit/week.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <random>
#include <set>
#include <tuple>

#include "audit/fisher.hpp"
#include "audit/sampling.hpp"
#include "units/calendar.hpp"
#include "units/reading.hpp"

namespace wm::audit {

namespace {

bool is_severe(const CheckCards& cards, const std::string& check) {
    const auto found = cards.find(check);
    return found != cards.end() && found->second.severity == 'H';
}

// Which batches can be behind which checks; comparing every batch with every check would cry wolf.
const std::multimap<std::string, std::string>& checks_of_batch() {
    static const std::multimap<std::string, std::string> table = {
        {"relief valve", "relief-lever"},       {"relief valve", "relief-rating"},
        {"limiting valve", "pressure-limit-set"}, {"tempering valve", "outlet-temp"},
        {"roof hook", "hook-gap"},              {"roof hook", "members-found"},
        {"roof hook", "anchor-torque"},         {"fluid", "loop-freeze-point"},
        {"fluid kind", "loop-freeze-point"},
    };
    return table;
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
            const auto [first, last] = checks_of_batch().equal_range(kind);
            for (auto at = first; at != last; ++at)
                if (at->second == result.check) batches[{kind + " " + batch, result.check}].add(result, job.job);
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

// Strata in which two jobs are alike enough to be compared.
using Stratum = std::tuple<std::string, std::string, bool>;

struct Candidate {
    std::string kind, subject, check;
    std::map<Stratum, Comparison> strata;
    Count own;
    Tally others;
};

std::string sentence_for(const Candidate& c, const CheckCards& cards, double p) {
    const std::string chance = p < 1e-6 ? "less than 1 in 1,000,000"
                                        : fmt::format("about 1 in {}", static_cast<long long>(1.0 / p + 0.5));
    const std::string who = c.kind == "crew and check" ? "Crew " + c.subject : "With " + c.subject + ", jobs";
    return fmt::format("{} failed \"{}\" in {} of {} jobs; the others in {} of {}. Chance alone: {}. Same roofs, same kinds.",
                       who, title_of(cards, c.check), c.own.tally.failed, c.own.tally.tries, c.others.failed,
                       c.others.tries, chance);
}

std::vector<Candidate> candidates_in(const AuditTable& table, const std::string& first_day, const std::string& last_day) {
    std::map<std::pair<std::string, std::string>, Candidate> found;
    std::map<std::string, std::vector<const CheckResult*>> by_check;
    for (const auto& result : table.results)
        if (result.day >= first_day && result.day <= last_day) by_check[result.check].push_back(&result);
    const auto compare = [&](const std::string& kind, const std::string& subject, const std::string& check,
                             const auto& is_own, const auto& is_other) {
        Candidate candidate{.kind = kind, .subject = subject, .check = check, .strata = {}, .own = {}, .others = {}};
        for (const auto* result : by_check[check]) {
            const auto& job = table.jobs[result->job];
            auto& stratum = candidate.strata[{job.roof, job.system, job.vulnerable}];
            if (is_own(job)) {
                candidate.own.add(*result, job.job);
                ++stratum.first.tries;
                stratum.first.failed += result->failed ? 1 : 0;
            } else if (is_other(job)) {
                ++candidate.others.tries;
                candidate.others.failed += result->failed ? 1 : 0;
                ++stratum.second.tries;
                stratum.second.failed += result->failed ? 1 : 0;
            }
        }
        found.emplace(std::pair{kind + "/" + subject, check}, std::move(candidate));
    };
    std::set<std::string> crews;
    std::set<std::pair<std::string, std::string>> batches;
    for (const auto& job : table.jobs) {
        crews.insert(job.crew);
        for (const auto& batch : job.batches) batches.insert(batch);
    }
    std::vector<std::string> checks;
    for (const auto& [check, rows] : by_check) checks.push_back(check);
    for (const auto& check : checks)
        for (const auto& crew : crews)
            compare("crew and check", crew, check, [&](const JobCard& job) { return job.crew == crew; },
                    [](const JobCard&) { return true; });
    for (const auto& [kind, batch] : batches) {
        const auto [first, last] = checks_of_batch().equal_range(kind);
        for (auto at = first; at != last; ++at)
            compare("batch and check", kind + " " + batch, at->second,
                    [&, k = kind, b = batch](const JobCard& job) {
                        const auto own = job.batches.find(k);
                        return own != job.batches.end() && own->second == b;
                    },
                    [k = kind](const JobCard& job) { return job.batches.contains(k); });
    }
    std::vector<Candidate> all;
    for (auto& [key, candidate] : found) all.push_back(std::move(candidate));
    return all;
}

void list_findings(Week& week, const AuditTable& table, const CheckCards& cards, const WeekSettings& settings,
                   const std::string& last_day) {
    const auto first_day = units::day_after(last_day, -7 * settings.weeks_back + 1).value_or("");
    std::vector<Candidate> compared;
    std::vector<double> p_values;
    for (auto& candidate : candidates_in(table, first_day, last_day)) {
        if (candidate.own.tally.tries < settings.least_tries || candidate.others.tries < settings.least_tries) continue;
        std::vector<Comparison> strata;
        for (const auto& [key, comparison] : candidate.strata) strata.push_back(comparison);
        const auto test = stratified_exact(strata);
        if (!test) continue;
        compared.push_back(std::move(candidate));
        p_values.push_back(test->greater);
    }
    if (p_values.empty()) return;
    const auto q_values = false_discovery(p_values);
    if (!q_values) return;
    for (std::size_t i = 0; i < compared.size(); ++i) {
        const auto& c = compared[i];
        if ((*q_values)[i] > settings.q_shown) continue;
        auto sentence = sentence_for(c, cards, p_values[i]);
        if (p_values[i] >= settings.p_clear)
            sentence += fmt::format(" Weaker than the usual 1 in {:.0f}: look before you speak.", 1.0 / settings.p_clear);
        week.findings.push_back({c.kind, c.subject, c.check, std::move(sentence), p_values[i],
                                 (*q_values)[i], c.own.tally, c.others, c.own.jobs});
    }
    std::stable_sort(week.findings.begin(), week.findings.end(),
                     [](const Finding& a, const Finding& b) { return a.q != b.q ? a.q < b.q : a.p < b.p; });
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
    for (const auto& finding : week.findings)
        if (!finding.jobs.empty())
            take(finding.jobs.back(), fmt::format("newest job behind a finding: {} of {}", title_of(cards, finding.check), finding.subject));
}

}  // namespace

std::vector<std::string> weeks_of(const AuditTable& table) {
    std::set<std::string> weeks;
    for (const auto& job : table.jobs)
        if (!job.week.empty()) weeks.insert(job.week);
    return {weeks.begin(), weeks.end()};
}

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
    list_findings(week, table, cards, settings, last_day);
    draw_samples(week, table, cards, settings);
    return week;
}

}  // namespace wm::audit
