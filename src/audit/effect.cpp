#include "audit/effect.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "audit/drift.hpp"
#include "audit/finding_words.hpp"
#include "units/calendar.hpp"

namespace wm::audit {

namespace {

constexpr int forgotten_after_days = 14;

/// Counts each try on its side of the day, and within or outside what the action was about.
class Sides {
public:
    Sides(Effect& effect, const std::string& done_on) : effect_{effect}, done_on_{done_on} {}

    void add(const std::string& day, Tally Effect::* before, Tally Effect::* after, bool failed) {
        if (day < effect_.before_from || day > effect_.until) return;
        auto& tally = effect_.*(day <= done_on_ ? before : after);
        ++tally.tries;
        tally.failed += failed ? 1 : 0;
    }
    void own(const std::string& day, bool failed) { add(day, &Effect::before, &Effect::after, failed); }
    void other(const std::string& day, bool failed) { add(day, &Effect::others_before, &Effect::others_after, failed); }

private:
    Effect& effect_;
    const std::string& done_on_;
};

void count_results(Sides& sides, const Columns& columns, const EffectScope& scope) {
    const bool by_crew = scope.kind == kind_in_words(QuestionKind::Crew);
    const bool by_household = scope.kind == kind_in_words(QuestionKind::Household);
    const auto check = columns.names().check.find(scope.check);
    if (!check) return;
    for (std::size_t j = 0; j < columns.job_count(); ++j) {
        const auto& job = columns.card(j);
        // Homes with and without vulnerable people are set differently; only the former were found.
        if (by_household && !job.vulnerable) continue;
        const auto range = columns.results_of(j);
        for (auto row = range.first; row < range.last; ++row) {
            if (columns.results().check[row] != *check) continue;
            const auto day = day_text(columns.results().day[row]);
            if ((by_crew || by_household) && job.crew != scope.subject) sides.other(day, columns.failed(row));
            else sides.own(day, columns.failed(row));
        }
    }
}

void count_deferrals(Sides& sides, const AuditTable& table, const EffectScope& scope, const std::string& until) {
    for (const auto& row : table.deferrals) {
        if (row.check != scope.check) continue;
        const auto ripe = units::day_after(row.since, forgotten_after_days);
        if (!ripe || *ripe > until) continue;
        const bool forgotten = row.closed.empty() || row.closed > *ripe;
        if (table.jobs[row.job].crew == scope.subject) sides.own(row.since, forgotten);
        else sides.other(row.since, forgotten);
    }
}

void count_gauge(Sides& sides, const AuditTable& table, const EffectScope& scope, const Effect& effect) {
    for (const auto& drift : gauge_drifts(table, effect.before_from, effect.until, 1))
        for (std::size_t i = 0; i < drift.days.size(); ++i) {
            const bool off = std::abs(drift.differences[i]) > 2.0 * drift.deviation;
            if (drift.instrument == scope.subject) sides.own(drift.days[i], off);
            else sides.other(drift.days[i], off);
        }
}

record::EffectVerdict verdict_of(const std::optional<ShareDifference>& difference) {
    if (!difference) return record::EffectVerdict::NoProof;
    if (difference->interval.low > 0.0) return record::EffectVerdict::Helped;
    if (difference->interval.high < 0.0) return record::EffectVerdict::Worse;
    return record::EffectVerdict::NoProof;
}

std::string points(double share) { return fmt::format("{:.0f}", 100.0 * share); }

std::string change_in_words(const ShareDifference& change) {
    const auto& [low, high] = change.interval;
    if (low > 0.0)
        return fmt::format("The share fell by {} percentage points (95 %: {} to {}).", points(change.difference),
                           points(low), points(high));
    if (high < 0.0)
        return fmt::format("The share rose by {} percentage points (95 %: {} to {}).", points(-change.difference),
                           points(-high), points(-low));
    return fmt::format("Anything from a fall by {} to a rise by {} percentage points would look like this (95 %).",
                       points(high), points(-low));
}

std::string sentence_for(const Effect& effect, const CheckCards& cards, const EffectScope& scope, const EffectSpan& span) {
    const bool all = scope.subject.empty() || effect.others_before.tries + effect.others_after.tries == 0;
    std::string text = fmt::format("\"{}\"{}: {} of {} failed in the {} days before, {} of {} in the {} days after.",
                                   title_of(cards, scope.check), all ? "" : " of " + scope.subject,
                                   effect.before.failed, effect.before.tries, span.before_days, effect.after.failed,
                                   effect.after.tries, span.after_days);
    if (!effect.difference) return text + " Too little to compare.";
    text += " " + change_in_words(*effect.difference);
    if (all) return text;
    text += fmt::format(" The others: {} of {} before, {} of {} after.", effect.others_before.failed,
                        effect.others_before.tries, effect.others_after.failed, effect.others_after.tries);
    const auto others = share_difference(effect.others_before, effect.others_after);
    if (others && others->is_proven() && effect.difference->is_proven() &&
        (others->difference > 0.0) == (effect.difference->difference > 0.0))
        text += " They moved the same way, so it may not be this action.";
    return text;
}

}  // namespace

Effect effect_of(const Columns& columns, const CheckCards& cards, const EffectScope& scope, const EffectSpan& span) {
    Effect effect;
    const auto from = units::day_after(span.done_on, 1 - span.before_days);
    const auto next = units::day_after(span.done_on, 1);
    const auto until = units::day_after(span.done_on, span.after_days);
    if (!from || !next || !until) return effect;
    effect.before_from = *from;
    effect.after_from = *next;
    effect.until = *until;
    Sides sides{effect, span.done_on};
    if (scope.kind == kind_in_words(QuestionKind::Deferral)) count_deferrals(sides, columns.rest(), scope, effect.until);
    else if (scope.kind == "instrument drift") count_gauge(sides, columns.rest(), scope, effect);
    else count_results(sides, columns, scope);
    // Without tries on a side there is no share and no difference.
    if (const auto difference = share_difference(effect.before, effect.after)) effect.difference = *difference;
    effect.verdict = verdict_of(effect.difference);
    effect.sentence = sentence_for(effect, cards, scope, span);
    return effect;
}

}  // namespace wm::audit
