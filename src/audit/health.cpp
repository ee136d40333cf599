#include "audit/health.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string_view>

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

void count_pairs(std::map<std::string, Counts>& counts, const AuditTable& table, const HealthRule& rule) {
    std::map<std::string_view, std::size_t> by_number;
    for (std::size_t i = 0; i < table.jobs.size(); ++i) by_number.emplace(table.jobs[i].job, i);
    std::map<std::pair<std::size_t, std::string_view>, bool> failed;
    for (const auto& result : table.results) failed[{result.job, result.check}] = result.failed;
    for (const auto& later : table.results) {
        const auto& job = table.jobs[later.job];
        if (job.after.empty() || later.day < rule.first_day || later.day > rule.last_day) continue;
        const auto house = by_number.find(job.after);
        if (house == by_number.end()) continue;
        const auto before = failed.find({house->second, later.check});
        if (before == failed.end()) continue;
        auto& pairs = counts[later.check].pairs;
        ++(before->second ? (later.failed ? pairs.both_fail : pairs.fail_pass) : (later.failed ? pairs.pass_fail : pairs.both_pass));
    }
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

std::vector<HealthRow> health_of(const AuditTable& table, const CheckCards& cards, const HealthRule& rule) {
    std::map<std::string, Counts> counts;
    for (const auto& result : table.results) {
        if (result.day < rule.first_day || result.day > rule.last_day) continue;
        auto& tally = counts[result.check].tally;
        ++tally.tries;
        tally.failed += result.failed ? 1 : 0;
    }
    for (const auto& deferral : table.deferrals)
        if (deferral.since >= rule.first_day && deferral.since <= rule.last_day) counts[deferral.check].put_off.insert(deferral.job);
    count_pairs(counts, table, rule);
    std::vector<HealthRow> rows;
    for (const auto& [check, count] : counts) judge(rows, check, count, cards, rule);
    std::stable_sort(rows.begin(), rows.end(), [](const HealthRow& a, const HealthRow& b) {
        return a.kind != b.kind ? a.kind < b.kind : a.tries > b.tries;
    });
    return rows;
}

}  // namespace wm::audit
