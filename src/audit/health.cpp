#include "audit/health.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string_view>
#include <unordered_map>

#include "audit/agreement.hpp"
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
    std::unordered_map<std::string_view, std::size_t> by_number;
    for (std::size_t job = 0; job < columns.job_count(); ++job) by_number.emplace(columns.card(job).job, job);
    for (std::size_t visit = 0; visit < columns.job_count(); ++visit) {
        const auto& after = columns.card(visit).after;
        const auto house = after.empty() ? by_number.end() : by_number.find(after);
        if (house == by_number.end()) continue;
        std::unordered_map<Code, bool> failed;
        const auto before = columns.results_of(house->second);
        for (auto row = before.first; row < before.last; ++row) failed[columns.results().check[row]] = columns.failed(row);
        const auto later = columns.results_of(visit);
        for (auto row = later.first; row < later.last; ++row) {
            const auto same = failed.find(columns.results().check[row]);
            if (same == failed.end() || columns.results().day[row] < first || columns.results().day[row] > last) continue;
            auto& pairs = counts[columns.check(row)].pairs;
            const bool now = columns.failed(row);
            ++(same->second ? (now ? pairs.both_fail : pairs.fail_pass) : (now ? pairs.pass_fail : pairs.both_pass));
        }
    }
}

std::vector<Tally> tallies_of(const Columns& columns, Day first, Day last) {
    std::vector<Tally> tallies(columns.names().check.size());
    const auto& rows = columns.results();
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        const auto& codes = columns.codes(job);
        if (codes.last_day < first || codes.first_day > last) continue;
        const auto range = columns.results_of(job);
        for (auto row = range.first; row < range.last; ++row) {
            if (rows.day[row] < first || rows.day[row] > last) continue;
            auto& tally = tallies[rows.check[row]];
            ++tally.tries;
            tally.failed += rows.marks[row] & ResultColumns::failed;
        }
    }
    return tallies;
}

HealthRow row(std::string kind, const std::string& check, std::int64_t tries, std::string sentence, std::string proposal) {
    return {std::move(kind), check, std::move(sentence), std::move(proposal), tries};
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

}  // namespace

std::vector<HealthRow> health_of(const Columns& columns, const CheckCards& cards, const HealthRule& rule) {
    std::map<std::string, Counts> counts;
    const auto tallies = tallies_of(columns, day_code(rule.first_day), day_code(rule.last_day));
    for (Code check = 0; check < tallies.size(); ++check)
        if (tallies[check].tries > 0) counts[columns.names().check.text(check)].tally = tallies[check];
    for (const auto& deferral : columns.rest().deferrals)
        if (deferral.since >= rule.first_day && deferral.since <= rule.last_day) counts[deferral.check].put_off.insert(deferral.job);
    count_pairs(counts, columns, rule);
    std::vector<HealthRow> rows;
    for (const auto& [check, count] : counts) judge(rows, check, count, cards, rule);
    std::stable_sort(rows.begin(), rows.end(), [](const HealthRow& a, const HealthRow& b) {
        return a.kind != b.kind ? a.kind < b.kind : a.tries > b.tries;
    });
    return rows;
}

}  // namespace wm::audit
