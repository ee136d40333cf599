// The equations of the plant as a table that the command line reads by name.
#pragma once

#include <vector>

#include "units/workout.hpp"

namespace wm::plant {

/// All of them, in the order of their subjects, each name once. A computation that has more than
/// one form (friction of a pipe from its Reynolds number or from its flow) marks the inputs of
/// each form as optional and refuses a set of inputs that fits none.
[[nodiscard]] const std::vector<units::Computation>& plant_computations();

}  // namespace wm::plant
