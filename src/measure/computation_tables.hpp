// What the tables of computations of this room share.
#pragma once

#include <string>
#include <vector>

#include "units/workout.hpp"

namespace wm::measure {

using Outputs = Result<std::vector<units::Output>>;

inline constexpr double usual_confidence = 0.95;

[[nodiscard]] units::Symbol output(std::string name, std::string unit, std::string meaning);

/// A confidence or coverage that may be left out.
[[nodiscard]] units::Symbol share(std::string name, std::string meaning);

[[nodiscard]] std::vector<units::Computation> fit_computations();
[[nodiscard]] std::vector<units::Computation> sensor_computations();

}  // namespace wm::measure
