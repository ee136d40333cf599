// The decision rule: what a reading, its tolerance and its uncertainty say together.
#pragma once

#include <optional>
#include <string_view>

#include "measure/outcome.hpp"
#include "problem/result.hpp"

namespace wm::measure {

/// Value: the limits bind the reading itself. Deviation: they bind a distance from where it should
/// be, so that 0 to H is a tolerance on both sides and reaches from -H to H.
enum class ToleranceOn { Value, Deviation };

/// What is allowed, in the unit of the reading. A limit itself is within.
struct Tolerance {
    std::optional<double> low;
    std::optional<double> high;
    std::optional<double> target;  ///< what the reading should be, where the checklist names it
    ToleranceOn on = ToleranceOn::Value;
};

/// A hold point is judged with a guard band as wide as the uncertainty.
enum class Importance { HoldPoint, Ordinary };

enum class Rule { Guarded, Simple, None };

/// "guarded", "simple", "none".
[[nodiscard]] std::string_view in_words(Rule rule);
[[nodiscard]] std::optional<Rule> rule_named(std::string_view words);

/// Why an outcome came about; the sentence a person reads is made from it where the unit is known.
enum class Reason {
    InsideGuarded,  ///< at least the uncertainty away from each limit
    InGuardStrip,   ///< within the limits, nearer to one than the uncertainty
    BelowLow,
    AboveHigh,
    InsideSimple,     ///< within the limits, with an instrument fine enough to say so
    TooCoarse,        ///< within the limits, but the instrument is too coarse for this tolerance
    EmptyAcceptance,  ///< within the limits, but the guard bands leave nothing between them
    NoLimit,          ///< nothing is demanded, the reading is only recorded
};

struct Judgement {
    Outcome outcome = Outcome::Open;
    Rule rule = Rule::None;
    Reason reason = Reason::NoLimit;
    std::optional<double> accept_low;              ///< what the reading had to reach to conform
    std::optional<double> accept_high;             ///< what it had to keep below
    double uncertainty = 0.0;                      ///< expanded, k = 2
    std::optional<double> probability_conforming;  ///< none without a limit
};

/// Judges one reading; reading, limits and the expanded uncertainty (k = 2, 0 for a count or a
/// figure on a plate) in one unit, none of them rounded.
///
/// Outside the limits does not conform, whatever the instrument. Within them a hold point conforms
/// if the reading keeps the uncertainty as distance from each limit, else it is inconclusive; any
/// other check conforms if the uncertainty is at most a quarter of the width of the tolerance, for
/// a single limit a quarter of its distance from the target, and without target a quarter of the
/// limit; else it is inconclusive, the instrument being too coarse. A single limit of 0 without
/// target gives no measure for the instrument and is judged as a hold point.
///
/// Comparisons forgive 1e-12 of the largest figure in them, so that 0.1 + 0.2 meets a limit of 0.3;
/// no instrument resolves so little.
///
/// A problem: a figure that is no number, a negative uncertainty, a low limit above the high one,
/// a deviation allowed less than 0.
/// Source: JCGM 106:2012, clause 8; ILAC-G8:09/2019 for the guard band. The quarter is common
/// practice (4 to 1 between half the width of a tolerance and the uncertainty is asked of
/// calibrations, half of that here).
[[nodiscard]] Result<Judgement> judge(double reading, const Tolerance& tolerance,
                                      double uncertainty, Importance importance);

/// What can be said of an instrument before any reading is taken.
enum class Fitness { Fit, TooCoarse, EmptyAcceptance };

/// Whether a reading with this uncertainty can conform at all. Problems as for `judge`.
[[nodiscard]] Result<Fitness> fitness(const Tolerance& tolerance, double uncertainty,
                                      Importance importance);

}  // namespace wm::measure
