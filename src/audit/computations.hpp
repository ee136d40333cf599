// The computations of this room, by the names a person asks for them.
#pragma once

#include <vector>

#include "units/workout.hpp"

namespace wm::audit {

/// p-chart, u-chart, wilson, pareto, drift-charts, fisher, false-discovery, funnel-limits,
/// time-to-correction, acceptance-sampling, shrunken-share, share-difference.
[[nodiscard]] std::vector<units::Computation> audit_computations();

}  // namespace wm::audit
