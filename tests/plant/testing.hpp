// Comparing with a published figure in the two ways the tables state a tolerance, and no number.
#pragma once

#include <cmath>
#include <limits>

namespace wm::plant::testing {

inline constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

/// Within `tolerance` in the unit of the figure.
inline bool is_near(double value, double expected, double tolerance) {
    return std::abs(value - expected) <= tolerance;
}

/// Within `percent` of the figure.
inline bool is_within(double value, double expected, double percent) {
    return std::abs(value - expected) <= std::abs(expected) * percent / 100.0;
}

}  // namespace wm::plant::testing
