// `work-out`: any computation of the trade from the command line.
#pragma once

#include <vector>

#include "app/arguments.hpp"
#include "app/output.hpp"
#include "units/workout.hpp"

namespace wm::app {

/// All computations of plant, measure and audit, in the order of their subjects.
[[nodiscard]] const std::vector<units::Computation>& all_computations();

[[nodiscard]] Output run_work_out(const Arguments& arguments);

}  // namespace wm::app
