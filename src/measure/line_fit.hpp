// A straight line through readings, with the uncertainty of its slope.
#pragma once

#include <cstddef>
#include <span>

#include "problem/result.hpp"

namespace wm::measure {

/// The units are those of y, and of y per x.
struct LineFit {
    double slope = 0.0;
    double intercept = 0.0;          ///< at x = 0
    double scatter = 0.0;            ///< s, standard deviation of y around the line, n - 2 degrees
    double slope_uncertainty = 0.0;  ///< standard, s over the root of spread
    double spread = 0.0;             ///< S_xx, the sum of squared distances of x from its mean
    std::size_t readings = 0;
};

/// Least squares. A problem: lists of different length, fewer than 3 readings, all x equal, a
/// figure that is no number.
/// Source: ordinary least squares; tested against NIST StRD "Norris".
[[nodiscard]] Result<LineFit> fitted_line(std::span<const double> x, std::span<const double> y);

struct SlopeInterval {
    double low = 0.0;
    double high = 0.0;
};

/// Two-sided interval of the slope by the t distribution, `confidence` above 0 and below 1.
[[nodiscard]] Result<SlopeInterval> slope_interval(const LineFit& fit, double confidence);

}  // namespace wm::measure
