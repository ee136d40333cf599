#include "audit/health.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string_view>
#include <unordered_map>

#include "audit/agreement.hpp"
#include "audit/median.hpp"
#include "audit/shares.hpp"

namespace wm::audit {

namespace {

constexpr double agreed_well = 0.6;
constexpr double mostly = 0.5;
constexpr double often = 0.2;

struct Counts {
    Tally tally;
    std::set<std::size_t> put_off;  ///< jobs
    AnswerPairs pairs;
    std::vector<std::size_t> differing;  ///< visits that answered otherwise than the visit before
};

bool can_hurt(const CheckCards& cards, const std::string& check) {
    const auto card = cards.find(check);
    return card != cards.end() && card->second.severity == 'H';
}

std::string percent(double share) { return fmt::format("{:.0f} %", 100.0 * share); }

// Visits to a house that was visited before are few: only their results are looked up.
void count_pairs(std::map<std::string, Counts>& counts, const Columns& columns, const HealthRule& rule) {
    const Day first = day_code(rule.first_day);
    const Day last = day_code(rule.last_day);
    for (std::size_t visit = 0; visit < columns.job_count(); ++visit) {
        const auto& after = columns.card(visit).after;
        const auto house = after.empty() ? std::nullopt : columns.job_named(after);
        if (!house) continue;
        std::unordered_map<Code, bool> failed;
        const auto before = columns.results_of(*house);
        for (auto row = before.first; row < before.last; ++row) failed[columns.results().check[row]] = columns.failed(row);
        const auto later = columns.results_of(visit);
        for (auto row = later.first; row < later.last; ++row) {
            const auto same = failed.find(columns.results().check[row]);
            if (same == failed.end() || columns.results().day[row] < first || columns.results().day[row] > last) continue;
            auto& count = counts[columns.check(row)];
            auto& pairs = count.pairs;
            const bool now = columns.failed(row);
            if (now != same->second) count.differing.push_back(visit);
            ++(same->second ? (now ? pairs.both_fail : pairs.fail_pass) : (now ? pairs.pass_fail : pairs.both_pass));
        }
    }
}

/// What the results of the span say of each check, under its number.
struct Spanned {
    std::vector<Tally> tallies;
    std::vector<std::vector<std::uint32_t>> seconds;  ///< those known
};

template <class Visit>
void for_each_row(const Columns& columns, const HealthRule& rule, Visit visit) {
    const Day first = day_code(rule.first_day);
    const Day last = day_code(rule.last_day);
    const auto& days = columns.results().day;
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        const auto& codes = columns.codes(job);
        if (codes.last_day < first || codes.first_day > last) continue;
        const auto range = columns.results_of(job);
        for (auto row = range.first; row < range.last; ++row)
            if (days[row] >= first && days[row] <= last) visit(job, row);
    }
}

Spanned spanned(const Columns& columns, const HealthRule& rule) {
    Spanned all;
    all.tallies.resize(columns.names().check.size());
    all.seconds.resize(columns.names().check.size());
    const auto& rows = columns.results();
    for_each_row(columns, rule, [&](std::size_t, std::size_t row) {
        auto& tally = all.tallies[rows.check[row]];
        ++tally.tries;
        tally.failed += rows.marks[row] & ResultColumns::failed;
        if (rows.seconds[row] > 0) all.seconds[rows.check[row]].push_back(rows.seconds[row]);
    });
    return all;
}

HealthRow row(std::string kind, const std::string& check, std::int64_t tries, std::string sentence, std::string proposal) {
    return {std::move(kind), check, std::move(sentence), std::move(proposal), tries, {}};
}

void judge(std::vector<HealthRow>& rows, const std::string& check, const Counts& count, const CheckCards& cards, const HealthRule& rule) {
    const auto& tally = count.tally;
    const auto title = title_of(cards, check);
    const auto share = wilson(tally);
    if (tally.failed == 0 && tally.tries >= rule.enough_to_never)
        rows.push_back(row("never fails", check, tally.tries,
                           fmt::format("\"{}\" failed in 0 of {} jobs; at most {} would (95 %).", title, tally.tries, percent(share->high)),
                           can_hurt(cards, check) ? "Keep it: it guards people. See by a visit whether it is looked at or only ticked."
                                                  : "See by a visit whether it is looked at or only ticked; else ask it in fewer jobs, or drop it."));
    if (share && tally.tries >= rule.least_tries && share->low > mostly)
        rows.push_back(row("mostly fails", check, tally.tries,
                           fmt::format("\"{}\" failed at the first try in {} of {} jobs (95 %: {} to {}).", title, tally.failed, tally.tries,
                                       percent(share->low), percent(share->high)),
                           "Ask whether the question or its limit is right; if it is, move it before the work it comes too late for."));
    const Tally deferred{static_cast<std::int64_t>(count.put_off.size()),
                         std::max(tally.tries, static_cast<std::int64_t>(count.put_off.size()))};
    if (const auto put_off = wilson(deferred); put_off && deferred.tries >= rule.least_tries && put_off->low > often)
        rows.push_back(row("often put off", check, deferred.tries,
                           fmt::format("\"{}\" was put off in {} of {} jobs (95 %: {} to {}).", title, deferred.failed, deferred.tries,
                                       percent(put_off->low), percent(put_off->high)),
                           "Move it to a visit of its own, or allow a way of answering it that needs no sun or hot water."));
    const auto& pairs = count.pairs;
    const auto houses = pairs.both_pass + pairs.pass_fail + pairs.fail_pass + pairs.both_fail;
    if (const auto agreement = cohen_kappa(pairs); agreement && houses >= rule.least_pairs && agreement->interval.high < agreed_well)
        rows.push_back(row("answered differently", check, houses,
                           fmt::format("Two visits answered \"{}\" differently in {} of {} houses; kappa {:.2f} (95 %: {:.2f} to {:.2f}).", title,
                                       pairs.pass_fail + pairs.fail_pass, houses, agreement->kappa, agreement->interval.low,
                                       agreement->interval.high),
                           "Word it anew with a picture of what passes and what does not; the house may also have changed in between."));
}

std::string in_time(double seconds) {
    return seconds < 120.0 ? fmt::format("{:.0f} s", seconds) : fmt::format("{:.0f} min", seconds / 60.0);
}

void judge_pace(std::vector<HealthRow>& rows, const Columns& columns, const Spanned& all, const CheckCards& cards, const HealthRule& rule) {
    const auto& names = columns.names().check;
    std::map<std::string, std::vector<Code>> stages;
    for (Code check = 0; check < names.size(); ++check)
        if (const auto card = cards.find(names.text(check)); card != cards.end() && !card->second.stage.empty())
            stages[card->second.stage].push_back(check);
    for (const auto& [stage, checks] : stages) {
        std::vector<std::uint32_t> together;
        for (const Code check : checks) together.insert(together.end(), all.seconds[check].begin(), all.seconds[check].end());
        const auto whole = median_of(std::move(together));
        for (const Code check : checks) {
            const auto& own = all.seconds[check];
            if (std::ssize(own) < rule.least_tries) continue;
            const auto pace = median_interval(own);
            // The median of the whole lies between those of its parts: what is below it is slower than nobody.
            if (!pace || pace->median < *whole) continue;
            std::vector<std::uint32_t> others;
            for (const Code other : checks)
                if (other != check) others.insert(others.end(), all.seconds[other].begin(), all.seconds[other].end());
            const auto usual = median_of(std::move(others));
            if (!usual || pace->low <= rule.times_slower * *usual) continue;
            const auto& card = cards.find(names.text(check))->second;
            rows.push_back(row("slow", names.text(check), std::ssize(own),
                               fmt::format("\"{}\" takes {} a reading as a rule (95 %: {} to {}; {} jobs), the other checks of its stage {}.",
                                           title_of(cards, names.text(check)), in_time(pace->median), in_time(pace->low), in_time(pace->high),
                                           own.size(), in_time(*usual)),
                               card.severity == 'H' || card.hold
                                   ? "Keep it. If it waits for water, heat or sun, move its start earlier, so that the wait runs beside other checks; "
                                     "else word it shorter."
                                   : "Word it shorter, or move its parts to where one stands anyway; if it tells little, drop it."));
        }
    }
}

/// The jobs behind each row, which are looked up only for checks that are told of.
void add_jobs(std::vector<HealthRow>& rows, const Columns& columns, const std::map<std::string, Counts>& counts, const HealthRule& rule) {
    std::unordered_map<Code, std::vector<std::size_t>> answered, failed;
    std::set<std::string_view> told;
    for (const auto& one : rows) told.insert(one.check);
    for (const auto check : told)
        if (const auto code = columns.names().check.find(check)) answered[*code], failed[*code];
    for_each_row(columns, rule, [&](std::size_t job, std::size_t at) {
        const auto found = answered.find(columns.results().check[at]);
        if (found == answered.end()) return;
        found->second.push_back(job);
        if (columns.failed(at)) failed[found->first].push_back(job);
    });
    const auto newest_first = [&](std::size_t a, std::size_t b) {
        return columns.codes(a).day != columns.codes(b).day ? columns.codes(a).day > columns.codes(b).day : a > b;
    };
    for (auto& one : rows) {
        const auto& count = counts.at(one.check);
        if (one.kind == "often put off") one.jobs.assign(count.put_off.begin(), count.put_off.end());
        else if (one.kind == "answered differently") one.jobs = count.differing;
        else if (const auto code = columns.names().check.find(one.check)) one.jobs = one.kind == "mostly fails" ? failed[*code] : answered[*code];
        std::sort(one.jobs.begin(), one.jobs.end(), newest_first);
        if (one.jobs.size() > rule.most_jobs) one.jobs.resize(rule.most_jobs);
    }
}

}  // namespace

std::vector<HealthRow> health_of(const Columns& columns, const CheckCards& cards, const HealthRule& rule) {
    std::map<std::string, Counts> counts;
    const auto all = spanned(columns, rule);
    for (Code check = 0; check < all.tallies.size(); ++check)
        if (all.tallies[check].tries > 0) counts[columns.names().check.text(check)].tally = all.tallies[check];
    for (const auto& deferral : columns.rest().deferrals)
        if (deferral.since >= rule.first_day && deferral.since <= rule.last_day) counts[deferral.check].put_off.insert(deferral.job);
    count_pairs(counts, columns, rule);
    std::vector<HealthRow> rows;
    for (const auto& [check, count] : counts) judge(rows, check, count, cards, rule);
    judge_pace(rows, columns, all, cards, rule);
    add_jobs(rows, columns, counts, rule);
    std::stable_sort(rows.begin(), rows.end(), [](const HealthRow& a, const HealthRow& b) {
        return a.kind != b.kind ? a.kind < b.kind : a.tries > b.tries;
    });
    return rows;
}

}  // namespace wm::audit
