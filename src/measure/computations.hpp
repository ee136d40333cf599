// The computations of this room, by the names a person asks for them.
#pragma once

#include <vector>

#include "units/workout.hpp"

namespace wm::measure {

/// line-fit, leak-verdict, gauge-test-time, uncertainty, conformity-probability,
/// acceptance-limits, pt100, thermocouple-k.
[[nodiscard]] std::vector<units::Computation> measure_computations();

}  // namespace wm::measure
