// The plant as it is fitted, for every drawing of it: the window's, the report's.
#pragma once

#include "checklist/facts.hpp"
#include "figures/plant_figure.hpp"
#include "record/state.hpp"

namespace wm::desk {

/// From the facts; what no fact names (expansion vessel, mixing valve) from the answers of the checks that look for it.
/// What nobody has stated stays empty, so that the drawing need not guess.
[[nodiscard]] figures::PlantShape plant_shape(const checklist::Facts& facts, const record::JobState& state);

}  // namespace wm::desk
