// Standard uncertainties, their combination, and their way through an equation.
#pragma once

#include <cstddef>
#include <functional>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "problem/result.hpp"

namespace wm::measure {

inline constexpr double unlimited_degrees = std::numeric_limits<double>::infinity();

/// One source of doubt, all in the unit of the result once multiplied by the sensitivity.
struct Contribution {
    double standard_uncertainty = 0.0;   ///< k = 1, not negative
    double degrees = unlimited_degrees;  ///< of freedom, above 0
    double sensitivity = 1.0;            ///< change of the result per change of this input
};

/// Standard uncertainties of what one knows. Arguments are not negative, counts above 1, the
/// coverage factor above 0; anything else is our mistake.
/// Source: JCGM 100:2008, 4.2.3, 4.3.3, 4.3.7, 4.3.9.
[[nodiscard]] Contribution from_scatter(double standard_deviation, int readings);
[[nodiscard]] Contribution from_rectangle(double half_width);
[[nodiscard]] Contribution from_triangle(double half_width);
[[nodiscard]] Contribution from_resolution(double step);
[[nodiscard]] Contribution from_certificate(double expanded_uncertainty, double coverage_factor);

struct Combined {
    double standard_uncertainty = 0.0;
    double effective_degrees = unlimited_degrees;  ///< before they are cut to a whole number
    double coverage_factor = 2.0;
    double expanded_uncertainty = 0.0;
};

/// Root of the sum of squares of independent contributions, effective degrees of freedom, and the
/// coverage factor of the t distribution for `coverage` (0.95: 95 % of repetitions).
///
/// A problem: no contribution, all of them 0, a negative or missing figure, a coverage outside
/// 0 to 1, or so little knowledge that the effective degrees of freedom fall below 1.
/// Source: JCGM 100:2008, 5.1.2 and G.4.
[[nodiscard]] Result<Combined> combine(std::span<const Contribution> contributions,
                                       double coverage);

/// What a data sheet says of an instrument, in one unit.
struct Specification {
    double largest_permissible_error = 0.0;  ///< taken as equally likely up to there
    double resolution = 0.0;
};

/// U (k = 2) of a single reading; figures not negative.
[[nodiscard]] Result<double> expanded_uncertainty(const Specification& specification);

/// U (k = 2) of the difference of two readings of one instrument, whose error of scale drops out:
/// the figure the catalogue gives, else twice the resolution. Problems: a negative figure.
[[nodiscard]] Result<double> difference_uncertainty(std::optional<double> from_catalogue,
                                                    double resolution);

/// An input of an equation: its estimate and standard uncertainty (k = 1).
struct Estimate {
    double value = 0.0;
    double standard_uncertainty = 0.0;
};

using Equation = std::function<double(std::span<const double>)>;

/// The result of an equation and its standard uncertainty by first-order propagation of independent
/// inputs; each sensitivity is a central difference over ± one standard uncertainty, so that a
/// slight curvature is averaged over the doubt it matters for.
///
/// A problem where the equation gives no number at the estimates or beside them.
/// Source: JCGM 100:2008, 5.1.2 and the note to 5.1.3.
[[nodiscard]] Result<Estimate> propagated(const Equation& equation,
                                          std::span<const Estimate> inputs);

/// How strongly two inputs err together, −1 to 1; `first` and `second` count the inputs from 0.
struct Correlation {
    std::size_t first;
    std::size_t second;
    double coefficient;
};

/// The same with inputs that err together, such as two readings of one instrument; pairs that are
/// not named are independent. A problem also: a pair that is not there, a coefficient beyond ±1.
/// Source: JCGM 100:2008, 5.2.2, equation 16.
[[nodiscard]] Result<Estimate> propagated(const Equation& equation,
                                          std::span<const Estimate> inputs,
                                          std::span<const Correlation> correlations);

}  // namespace wm::measure
