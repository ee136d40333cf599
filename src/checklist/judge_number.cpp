// A number against its tolerance.
#include "checklist/judge_number.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "checklist/judge_words.hpp"
#include "checklist/plain_expression.hpp"
#include "checklist/words.hpp"

namespace wm::checklist {
namespace {

using measure::Importance;
using measure::ToleranceOn;
using units::Amount;

// A difference of two places on a scale is no place: 5 K, not 278 K.
units::Unit difference_unit(const units::Unit& unit) {
    return unit.scale == units::Scale::Point ? *units::unit_named("K") : unit;
}

std::string sentence_case(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

void add_sentence(std::string& why, const std::string& sentence) {
    if (sentence.empty()) return;
    if (!why.empty()) why += ' ';
    why += sentence_case(sentence);
    if (!why.ends_with('.') && !why.ends_with(':')) why += '.';
}

bool nearly(double a, double b) {
    return std::abs(a - b) <= 1e-12 * std::max(std::abs(a), std::abs(b));
}

// One bound with the number held against it.
struct Held {
    const NumberCase& of;
    const Bound& bound;
    Amount measured;  ///< of the bound's subject
    Amount entered;
};

std::optional<double> in(const std::optional<Amount>& amount, const units::Unit& unit) {
    return amount ? std::optional{amount->in(unit)} : std::nullopt;
}

measure::Tolerance tolerance_of(const NumberCase& of, const Bound& bound,
                                const std::optional<Amount>& target) {
    const bool deviation = of.on == ToleranceOn::Deviation || bound.binds == Binds::BearingGap;
    return {in(bound.low, of.unit), in(bound.high, of.unit), in(target, of.unit),
            deviation ? ToleranceOn::Deviation : ToleranceOn::Value};
}

std::string allowed_text(const NumberCase& of, const Bound& bound) {
    auto text = range_text(bound.low, bound.high, of.unit, of.decimals);
    if (bound.binds == Binds::BearingGap && bound.centre)
        return fmt::format("{} from {}", text, amount_text(*bound.centre, of.unit, of.decimals));
    if (bound.centre && !bound.centre_text.empty())
        text += fmt::format(" ({} ± {})", amount_text(*bound.centre, of.unit, of.decimals),
                            bound.centre_text);
    return text;
}

std::string allowed_said(const NumberCase& of, const Bound& bound) {
    if (!of.said_in || bound.binds == Binds::BearingGap) return allowed_text(of, bound);
    return fmt::format("{} ({})", range_text(bound.low, bound.high, *of.said_in), range_text(bound.low, bound.high, of.unit, of.decimals));
}

Amount from_value(double value, const units::Unit& unit) {
    return Amount::of(value, unit);
}

Limits limits_from(const NumberCase& of, const Bound& bound, const std::optional<Amount>& target) {
    Limits limits;
    limits.unit = of.unit;
    limits.low = bound.low;
    limits.high = bound.high;
    limits.target = target ? target : bound.centre;
    limits.text = allowed_text(of, bound);
    if (bound.binds != Binds::BearingGap || !bound.centre) return limits;
    // A drawing shows the bearing itself: as far to one side of its centre as to the other.
    if (bound.high) {
        limits.low =
            Amount{bound.centre->si - bound.high->si, bound.centre->dimension, bound.centre->scale};
        limits.high =
            Amount{bound.centre->si + bound.high->si, bound.centre->dimension, bound.centre->scale};
    }
    return limits;
}

std::optional<Amount> target_of(const NumberCase& of, const Given& given, Missing& missing) {
    if (of.target == nullptr) return std::nullopt;
    const auto target = amount_of(*of.target, of.target->root(), given);
    if (target) return *target;
    gather(missing, target.error());
    return std::nullopt;
}

NumberWords words_for(const Held& held, const Amount& uncertainty) {
    const auto& unit = held.of.said_in ? *held.of.said_in : held.of.unit;
    NumberWords words;
    words.measured = said(held.of, held.measured);
    words.allowed = allowed_said(held.of, held.bound);
    if (held.bound.low) words.low = said(held.of, *held.bound.low);
    if (held.bound.high) words.high = said(held.of, *held.bound.high);
    if (uncertainty.si > 0.0) words.uncertainty = uncertainty_text(uncertainty, difference_unit(unit));
    return words;
}

bool breaks_strict_limit(const Held& held) {
    const auto& bound = held.bound;
    if (bound.low && !bound.low_itself_allowed && nearly(held.measured.si, bound.low->si))
        return true;
    return bound.high && !bound.high_itself_allowed && nearly(held.measured.si, bound.high->si);
}

void note_acceptance(Limits& limits, const measure::Judgement& judgement, const Held& held) {
    limits.rule = judgement.rule;
    const auto& unit = held.of.unit;
    const double shift = held.bound.binds == Binds::BearingGap && held.bound.centre
                             ? held.bound.centre->in(unit)
                             : 0.0;
    // A distance from where it should be has no lower limit to draw.
    const bool one_sided = held.of.on == ToleranceOn::Deviation && !held.bound.low;
    if (judgement.accept_low && !one_sided)
        limits.accept_low = from_value(*judgement.accept_low + shift, unit);
    if (judgement.accept_high)
        limits.accept_high = from_value(*judgement.accept_high + shift, unit);
}

Judged judge_held(const Held& held, const Doubt& doubt, const std::optional<Amount>& target) {
    Judged judged;
    judged.limits = limits_from(held.of, held.bound, target);
    judged.measured = held.measured;
    const auto difference = difference_unit(held.of.unit);
    const double uncertainty = doubt.expanded.si / difference.factor;
    judged.uncertainty = uncertainty;
    judged.limits.uncertainty = doubt.expanded;
    const auto judgement =
        measure::judge(held.measured.in(held.of.unit), tolerance_of(held.of, held.bound, target),
                       uncertainty, held.of.importance);
    if (!judgement) {
        judged.outcome = Outcome::Open;
        judged.why = fmt::format("The tolerance contradicts itself: {}", judgement.error().what);
        return judged;
    }
    judged.outcome = judgement->outcome;
    judged.probability = judgement->probability_conforming;
    note_acceptance(judged.limits, *judgement, held);
    judged.why = reason_in_words(*judgement, words_for(held, doubt.expanded));
    if (judged.outcome != Outcome::DoesNotConform && breaks_strict_limit(held)) {
        judged.outcome = Outcome::DoesNotConform;
        judged.why = fmt::format("{} lies on the limit itself, which is not allowed.", said(held.of, held.measured));
    }
    return judged;
}

Judged no_evidence(const NumberCase& of, const Amount& measured, const Doubt& doubt) {
    Judged judged;
    judged.measured = measured;
    judged.limits.unit = of.unit;
    judged.why =
        fmt::format("The reading of {} is no evidence: {}. Read again with another instrument.", said(of, measured), doubt.not_evidence);
    return judged;
}

// Conditions on facts, or on the reading in a form no limit can be drawn for.
Judged judge_conditions(Judged judged, const Expression& tolerance,
                        const std::vector<std::uint32_t>& conditions, const Given& given) {
    for (const auto node : conditions) {
        const auto holds = is_true(tolerance, node, given);
        Judged found;
        if (!holds) {
            leave_open(found, holds.error());
        } else if (!*holds) {
            found.outcome = Outcome::DoesNotConform;
            found.why = fmt::format("It does not hold that {}.", expression_in_words(tolerance, node, &given.context.library));
        } else {
            continue;
        }
        found.limits = judged.limits;
        found.measured = judged.measured;
        found.uncertainty = judged.uncertainty;
        judged = worse_of(std::move(judged), std::move(found));
    }
    return judged;
}

Judged only_recorded(const NumberCase& of, const Amount& measured) {
    Judged judged;
    judged.outcome = Outcome::Conforms;
    judged.measured = measured;
    judged.limits.unit = of.unit;
    judged.limits.text = "recorded, nothing is demanded";
    judged.why = fmt::format("{} is recorded; nothing is demanded here.", said(of, measured));
    return judged;
}

Judged judge_bounds(const Expression& tolerance, const NumberCase& of, const Amount& measured,
                    const Doubt& doubt, const Given& given) {
    const auto bounds = bounds_of(tolerance, given, mentions_reading(tolerance));
    Missing missing = bounds.missing;
    const auto target = target_of(of, given, missing);
    if (!missing.none()) {
        Judged judged;
        judged.measured = measured;
        judged.limits.unit = of.unit;
        judged.limits.missing = missing;
        leave_open(judged, missing);
        return judged;
    }
    Judged judged = only_recorded(of, measured);
    bool first = true;
    for (const auto& bound : bounds.of_subjects) {
        const auto subject = amount_of(tolerance, bound.subject, given);
        if (!subject) {
            leave_open(judged, subject.error());
            return judged;
        }
        auto one = judge_held({of, bound, *subject, measured}, doubt, target);
        judged = first ? std::move(one) : worse_of(std::move(judged), std::move(one));
        first = false;
    }
    judged.limits.derivation = derivation_of(tolerance, given);
    return judge_conditions(std::move(judged), tolerance, bounds.conditions, given);
}

}  // namespace

std::string said(const NumberCase& of, const Amount& amount) {
    const auto own = amount_text(amount, of.unit, of.decimals);
    return of.said_in ? fmt::format("{} ({})", amount_text(amount, *of.said_in), own) : own;
}

NumberCase number_case(const Check& check) {
    NumberCase of;
    of.tolerance = check.tolerance ? &*check.tolerance : nullptr;
    of.target = check.target ? &*check.target : nullptr;
    of.unit = check.judged_unit().value_or(units::Unit{});
    of.decimals = check.decimals;
    of.importance = check.hold ? Importance::HoldPoint : Importance::Ordinary;
    of.on = check.is_deviation ? ToleranceOn::Deviation : ToleranceOn::Value;
    of.doubt.type = check.instrument;
    of.doubt.unit = of.unit;
    bool difference = check.is_difference;
    if (check.kind == Kind::Series && check.measurand)
        for (const auto& node : check.measurand->nodes())
            difference = difference || node.op == Op::Subtract;
    of.doubt.as = difference ? ReadAs::Difference : ReadAs::Absolute;
    return of;
}

NumberCase number_case(const Check& check, const Part& part) {
    NumberCase of;
    of.tolerance = part.tolerance ? &*part.tolerance : nullptr;
    of.target = part.target ? &*part.target : nullptr;
    of.unit = part.unit.value_or(units::Unit{});
    of.decimals = part.decimals;
    of.importance = check.hold ? Importance::HoldPoint : Importance::Ordinary;
    of.doubt.type = part.instrument;
    of.doubt.unit = of.unit;
    return of;
}

void say_in(NumberCase& of, const std::optional<units::Unit>& entered_in) {
    // Of places on two scales of temperature the difference has no unit that both share; a place itself has.
    const bool alike = entered_in && entered_in->dimension == of.unit.dimension && entered_in->scale == of.unit.scale;
    const bool gap = of.on == ToleranceOn::Deviation;
    if (alike && !gap && !(*entered_in == of.unit)) of.said_in = entered_in;
}

Judged judge_number(const NumberCase& of, const Amount& measured, const Amount& entered,
                    const Given& given, const std::optional<InstrumentInUse>& instrument) {
    const auto doubt =
        doubt_of(of.doubt, instrument, of.doubt.as == ReadAs::Difference ? measured : entered,
                 given.context);
    if (!doubt.not_evidence.empty()) return no_evidence(of, measured, doubt);
    if (of.tolerance == nullptr) return only_recorded(of, measured);
    Given with_reading = given;
    with_reading.names.insert_or_assign("reading", measured);
    with_reading.names.insert_or_assign("uncertainty", doubt.expanded);
    auto judged = judge_bounds(*of.tolerance, of, measured, doubt, with_reading);
    if (judged.outcome != Outcome::Open) add_sentence(judged.why, doubt.words);
    return judged;
}

Judged judge_together(const Expression& together, const NumberCase& of, const Amount& entered,
                      const Given& given, const std::optional<InstrumentInUse>& instrument) {
    const auto doubt = doubt_of(of.doubt, instrument, entered, given.context);
    if (!doubt.not_evidence.empty()) return no_evidence(of, entered, doubt);
    auto judged = judge_bounds(together, of, entered, doubt, given);
    if (judged.outcome != Outcome::Open) add_sentence(judged.why, doubt.words);
    return judged;
}

namespace {

// The uncertainty may grow with the reading, so each acceptance limit has that of its own limit.
std::optional<Limits> acceptance_at(const Amount& limit, const NumberCase& of, const Bound& bound,
                                    const std::optional<Amount>& target, const Context& context,
                                    const std::optional<InstrumentInUse>& instrument) {
    const auto doubt = doubt_of(of.doubt, instrument, limit, context);
    if (!doubt.not_evidence.empty()) return std::nullopt;
    const auto judgement =
        measure::judge(limit.in(of.unit), tolerance_of(of, bound, target),
                       doubt.expanded.si / difference_unit(of.unit).factor, of.importance);
    if (!judgement) return std::nullopt;
    Limits limits;
    limits.uncertainty = doubt.expanded;
    note_acceptance(limits, *judgement, {of, bound, limit, limit});
    return limits;
}

}  // namespace

Limits limits_of(const NumberCase& of, const Given& given,
                 const std::optional<InstrumentInUse>& instrument) {
    Limits limits;
    limits.unit = of.unit;
    if (of.tolerance == nullptr) {
        limits.text = "recorded, nothing is demanded";
        return limits;
    }
    const auto bounds = bounds_of(*of.tolerance, given, mentions_reading(*of.tolerance));
    Missing missing = bounds.missing;
    const auto target = target_of(of, given, missing);
    const auto derivation = derivation_of(*of.tolerance, given);
    if (bounds.of_subjects.empty() || !missing.none()) {
        limits.text = demand_in_words(*of.tolerance, given);
        limits.derivation = derivation;
        limits.missing = missing;
        return limits;
    }
    const auto& bound = bounds.of_subjects.front();
    limits = limits_from(of, bound, target);
    limits.derivation = derivation;
    const auto at_low =
        bound.low ? acceptance_at(*bound.low, of, bound, target, given.context, instrument)
                  : std::nullopt;
    const auto at_high =
        bound.high ? acceptance_at(*bound.high, of, bound, target, given.context, instrument)
                   : std::nullopt;
    const auto& any = at_high ? at_high : at_low;
    if (!any) return limits;
    limits.rule = any->rule;
    limits.uncertainty = any->uncertainty;
    limits.accept_low = at_low ? at_low->accept_low : any->accept_low;
    limits.accept_high = any->accept_high;
    return limits;
}

std::optional<measure::Fitness> fitness_of(const NumberCase& of, const Given& given) {
    if (of.tolerance == nullptr) return std::nullopt;
    const auto bounds = bounds_of(*of.tolerance, given, mentions_reading(*of.tolerance));
    Missing missing = bounds.missing;
    const auto target = target_of(of, given, missing);
    if (!missing.none() || bounds.of_subjects.empty()) return std::nullopt;
    const auto& bound = bounds.of_subjects.front();
    double largest = 0.0;
    for (const auto& limit : {bound.low, bound.high}) {
        if (!limit) continue;
        const auto doubt = doubt_of(of.doubt, std::nullopt, *limit, given.context);
        if (!doubt.not_evidence.empty()) return std::nullopt;
        largest = std::max(largest, doubt.expanded.si / difference_unit(of.unit).factor);
    }
    const auto fit = measure::fitness(tolerance_of(of, bound, target), largest, of.importance);
    return fit ? std::optional{*fit} : std::nullopt;
}

void leave_open(Judged& judged, const Missing& missing) {
    judged.outcome = Outcome::Open;
    judged.probability.reset();
    judged.why = missing_in_words(missing);
    const auto add = [](std::vector<std::string>& list, const std::vector<std::string>& items) {
        for (const auto& item : items)
            if (std::find(list.begin(), list.end(), item) == list.end()) list.push_back(item);
    };
    add(judged.missing_facts, missing.facts);
    add(judged.waits_for, missing.checks);
}

Judged worse_of(Judged one, Judged other) {
    const bool keep_one = measure::worse(one.outcome, other.outcome) == one.outcome;
    Judged& kept = keep_one ? one : other;
    const Judged& dropped = keep_one ? other : one;
    Missing missing{dropped.missing_facts, dropped.waits_for, ""};
    for (const auto& key : missing.facts)
        if (std::find(kept.missing_facts.begin(), kept.missing_facts.end(), key) ==
            kept.missing_facts.end())
            kept.missing_facts.push_back(key);
    for (const auto& id : missing.checks)
        if (std::find(kept.waits_for.begin(), kept.waits_for.end(), id) == kept.waits_for.end())
            kept.waits_for.push_back(id);
    for (const auto& place : dropped.missing_places)
        if (std::find(kept.missing_places.begin(), kept.missing_places.end(), place) ==
            kept.missing_places.end())
            kept.missing_places.push_back(place);
    kept.outside_plausible = kept.outside_plausible || dropped.outside_plausible;
    kept.band = std::max(one.band, other.band);
    return std::move(kept);
}

}  // namespace wm::checklist
