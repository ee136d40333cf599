// The decision rule.
#include "measure/decision.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "measure/conformity.hpp"
#include "measure/demands.hpp"

namespace wm::measure {
namespace {

/// a <= b, forgiving what decimal fractions lose in binary. `scale` is the largest figure that
/// went into either side.
bool at_most(double a, double b, double scale) {
    constexpr double forgiven = 1e-12;
    return a <= b + forgiven * std::max({std::abs(a), std::abs(b), std::abs(scale)});
}

/// The limits that bind the reading: a deviation allowed up to H reaches from -H to H.
Limits binding_limits(const Tolerance& tolerance) {
    Limits limits{tolerance.low, tolerance.high};
    const bool one_sided_text = !tolerance.low || *tolerance.low == 0.0;
    if (tolerance.on == ToleranceOn::Deviation && tolerance.high && one_sided_text) {
        limits.low = -*tolerance.high;
    }
    return limits;
}

/// The largest uncertainty simple acceptance may have; nullopt where nothing measures it.
std::optional<double> simple_limit(const Tolerance& tolerance, const Limits& limits) {
    if (limits.low && limits.high) return (*limits.high - *limits.low) / 4.0;
    const double limit = limits.low ? *limits.low : *limits.high;
    if (tolerance.target) return 0.25 * std::abs(limit - *tolerance.target);
    if (limit == 0.0) return std::nullopt;
    return 0.25 * std::abs(limit);
}

std::optional<Problem> unfit(const Tolerance& tolerance, double uncertainty) {
    Demands demands{"decision rule"};
    demands.not_negative("uncertainty", uncertainty);
    if (tolerance.low) demands.finite("low limit", *tolerance.low);
    if (tolerance.high) demands.finite("high limit", *tolerance.high);
    if (tolerance.target) demands.finite("target", *tolerance.target);
    if (tolerance.low && tolerance.high) {
        demands.that(*tolerance.low <= *tolerance.high, "low limit",
                     "it must not lie above the high limit");
    }
    if (tolerance.on == ToleranceOn::Deviation && tolerance.high) {
        demands.that(*tolerance.high >= 0.0, "high limit", "a deviation cannot be below 0");
    }
    return demands.unmet();
}

struct Standard {
    Limits limits;
    Limits acceptance;
    Rule rule = Rule::None;
    Fitness fitness = Fitness::Fit;
    double scale = 0.0;  ///< of the figures behind both pairs of limits
};

Standard standard_of(const Tolerance& tolerance, double uncertainty, Importance importance) {
    Standard standard;
    standard.limits = binding_limits(tolerance);
    const Limits& limits = standard.limits;
    if (!limits.low && !limits.high) return standard;

    standard.scale = std::max(
        {std::abs(limits.low.value_or(0.0)), std::abs(limits.high.value_or(0.0)), uncertainty});
    const std::optional<double> coarsest = simple_limit(tolerance, limits);
    const bool guarded = importance == Importance::HoldPoint || !coarsest;
    standard.rule = guarded ? Rule::Guarded : Rule::Simple;
    const double strip = guarded ? uncertainty : 0.0;
    if (limits.low) standard.acceptance.low = *limits.low + strip;
    if (limits.high) standard.acceptance.high = *limits.high - strip;

    if (!guarded && !at_most(uncertainty, *coarsest, standard.scale)) {
        standard.fitness = Fitness::TooCoarse;
    }
    const Limits& acceptance = standard.acceptance;
    if (acceptance.low && acceptance.high &&
        !at_most(*acceptance.low, *acceptance.high, standard.scale)) {
        standard.fitness = Fitness::EmptyAcceptance;
    }
    return standard;
}

bool is_within(double reading, const Limits& limits, double scale) {
    return (!limits.low || at_most(*limits.low, reading, scale)) &&
           (!limits.high || at_most(reading, *limits.high, scale));
}

struct Ruling {
    Outcome outcome;
    Reason reason;
};

Ruling ruling(double reading, const Standard& standard) {
    const Limits& limits = standard.limits;
    if (limits.low && !at_most(*limits.low, reading, standard.scale)) {
        return {Outcome::DoesNotConform, Reason::BelowLow};
    }
    if (limits.high && !at_most(reading, *limits.high, standard.scale)) {
        return {Outcome::DoesNotConform, Reason::AboveHigh};
    }
    if (standard.rule == Rule::None) return {Outcome::Conforms, Reason::NoLimit};
    if (standard.fitness == Fitness::EmptyAcceptance) {
        return {Outcome::Inconclusive, Reason::EmptyAcceptance};
    }
    if (standard.fitness == Fitness::TooCoarse) return {Outcome::Inconclusive, Reason::TooCoarse};
    if (standard.rule == Rule::Simple) return {Outcome::Conforms, Reason::InsideSimple};
    return is_within(reading, standard.acceptance, standard.scale)
               ? Ruling{Outcome::Conforms, Reason::InsideGuarded}
               : Ruling{Outcome::Inconclusive, Reason::InGuardStrip};
}

std::optional<double> probability(double reading, const Standard& standard, double uncertainty) {
    if (standard.rule == Rule::None) return std::nullopt;
    if (uncertainty == 0.0) {
        return is_within(reading, standard.limits, standard.scale) ? 1.0 : 0.0;
    }
    const auto conforming = probability_conforming({reading, uncertainty / 2.0}, standard.limits);
    assert(conforming && "the inputs were looked at before");
    return *conforming;
}

}  // namespace

std::string_view in_words(Rule rule) {
    switch (rule) {
        case Rule::Guarded:
            return "guarded";
        case Rule::Simple:
            return "simple";
        case Rule::None:
            return "none";
    }
    assert(false && "a rule outside the enumeration");
    return "none";
}

std::optional<Rule> rule_named(std::string_view words) {
    for (const Rule rule : {Rule::Guarded, Rule::Simple, Rule::None}) {
        if (in_words(rule) == words) return rule;
    }
    return std::nullopt;
}

Result<Judgement> judge(double reading, const Tolerance& tolerance, double uncertainty,
                        Importance importance) {
    if (auto problem = Demands{"decision rule"}.finite("reading", reading).unmet()) {
        return refused(*problem);
    }
    if (auto problem = unfit(tolerance, uncertainty)) return refused(*std::move(problem));

    const Standard standard = standard_of(tolerance, uncertainty, importance);
    const auto [outcome, reason] = ruling(reading, standard);
    return Judgement{.outcome = outcome,
                     .rule = standard.rule,
                     .reason = reason,
                     .accept_low = standard.acceptance.low,
                     .accept_high = standard.acceptance.high,
                     .uncertainty = uncertainty,
                     .probability_conforming = probability(reading, standard, uncertainty)};
}

Result<Fitness> fitness(const Tolerance& tolerance, double uncertainty, Importance importance) {
    if (auto problem = unfit(tolerance, uncertainty)) return refused(*std::move(problem));
    return standard_of(tolerance, uncertainty, importance).fitness;
}

}  // namespace wm::measure
