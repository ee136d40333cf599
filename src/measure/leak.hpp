// What pressure readings over time prove about a leak, and how long a gauge needs to prove it.
#pragma once

#include <optional>
#include <span>

#include "measure/line_fit.hpp"
#include "measure/outcome.hpp"
#include "problem/result.hpp"

namespace wm::measure {

/// Readings of a shut system: times in one unit, pressures in another, corrected for temperature
/// before they come here. Successive readings of a sticking needle are not independent: tap it.
struct HoldReadings {
    std::span<const double> times;
    std::span<const double> pressures;
    double resolution = 0.0;   ///< of the gauge, in the unit of the pressures, above 0
    double confidence = 0.95;  ///< at least 0.5 and below 1
};

/// All rates in the unit of pressure per unit of time; a drop has a negative slope.
struct LeakEvidence {
    LineFit fit;
    double slope_uncertainty = 0.0;  ///< with the resolution as least scatter
    SlopeInterval slope;             ///< two-sided
    double detection_limit = 0.0;    ///< no smaller drop rate could have been seen
    double highest_drop = 0.0;       ///< the drop rate is below this, one-sided

    /// Only then may a report say that no leak above the detection limit was found.
    [[nodiscard]] bool is_level() const { return slope.low <= 0.0 && slope.high >= 0.0; }
};

/// The scatter counts as at least resolution/√12: equal readings of a coarse gauge prove little.
/// Problems as for fitted_line, and a resolution that is not above 0.
/// Source: t interval of the slope; JCGM 100:2008, F.2.2.1 for the resolution; the larger of the
/// two is our convention. Trap: rounding counts as independent from reading to reading. A needle
/// that never moves proves only a drop below one step over the whole test, however many readings
/// say so; there the limits are too tight by up to the root of their number.
[[nodiscard]] Result<LeakEvidence> leak_evidence(const HoldReadings& readings);

enum class LeakVerdict { Pass, Leak, Inconclusive };

/// Pass: the highest drop rate is within the allowed one. Leak: the lowest is beyond it. Else the
/// test wants more time or a finer gauge. Problem: an allowed rate that is negative or no number.
[[nodiscard]] Result<LeakVerdict> leak_verdict(const LeakEvidence& evidence, double allowed_rate);

/// The outcome of a holding test: its tolerance on the drop decides; a leak verdict that is no
/// pass turns conforms into inconclusive and changes nothing else.
[[nodiscard]] Outcome outcome_of_hold(Outcome by_tolerance, LeakVerdict verdict);

/// A holding test to be planned: pressures and rates in matching units.
struct HoldPlan {
    double resolution = 0.0;    ///< of the gauge, not negative
    double scatter = 0.0;       ///< expected of its readings, not negative; one of both above 0
    double allowed_rate = 0.0;  ///< drop per time, above 0
    int readings = 0;           ///< equally spaced, at least 3
    double confidence = 0.95;   ///< at least 0.5 and below 1
};

/// The shortest test, first to last reading, in the unit of time of the rate, that can prove the
/// allowed rate. Source: algebra of the slope's uncertainty for equal steps.
[[nodiscard]] Result<double> shortest_hold(const HoldPlan& plan);

}  // namespace wm::measure
