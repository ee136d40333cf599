// How likely a measured value lies within its tolerance.
#pragma once

#include <optional>

#include "problem/result.hpp"

namespace wm::measure {

/// The limits of a tolerance, in the unit of the value; an absent limit binds nothing.
struct Limits {
    std::optional<double> low;
    std::optional<double> high;
};

/// A measured value and its standard uncertainty (k = 1), in one unit.
struct Measured {
    double value = 0.0;
    double standard_uncertainty = 0.0;
};

/// Probability, 0 to 1, that the true value lies within the limits, for a normal error and no
/// knowledge from before. With no uncertainty it is 1 within the limits (a limit itself is within)
/// and 0 outside. A problem: no limit at all, a low limit above the high one, a negative
/// uncertainty, a figure that is no number.
/// Source: JCGM 106:2012, clause 7.
[[nodiscard]] Result<double> probability_conforming(const Measured& measured, const Limits& limits);

/// What a probability of conformity says: at least 0.95 passes, at most 0.05 fails. The two
/// bounds are our convention.
enum class Likelihood { Pass, Fail, Undecided };

[[nodiscard]] Likelihood likelihood_of(double probability);

}  // namespace wm::measure
