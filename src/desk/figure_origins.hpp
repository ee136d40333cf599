// From the figures of a report to their equations and sources.
#pragma once

#include <vector>

#include "desk/in_hand.hpp"
#include "desk/view.hpp"
#include "handover/report_input.hpp"

namespace wm::desk {

/// One origin for each derived value that a check with a reading names, for each derived value those
/// are made of, and for each computation that judged: guard bands and chance of a wrong acceptance,
/// line of a holding test, heat balance, flow and sun, and the estimate of the year. In the order
/// of the checks; each once.
[[nodiscard]] std::vector<handover::FigureOrigin> figure_origins(const JobInHand& job, const JobView& view,
                                                                 const handover::Expectation& expectation);

}  // namespace wm::desk
