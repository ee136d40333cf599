// The six outcomes as shapes that are told apart without colour, in any size.
#pragma once

#include "drawing/canvas.hpp"
#include "measure/outcome.hpp"

namespace wm::figures {

/// Disc with a tick: conforms. Square with a cross: does not conform. Diamond with a question
/// mark: inconclusive. Ring whose right half is filled, like a clock at the half hour: deferred.
/// Empty ring: open. Short dash: not applicable. `size_mm` is the width of the whole mark.
void draw_outcome_mark(drawing::Canvas& on, measure::Outcome outcome, drawing::Point centre,
                       double size_mm);

/// The colour role that repeats what the shape says.
[[nodiscard]] drawing::Ink ink_of(measure::Outcome outcome);

}  // namespace wm::figures
