// The places of a check as keys, each with its own mark.
#pragma once

#include "screens/run_draft.hpp"

namespace wm::screens {

/// Height the grid would like in this width; 0 for a check with one place only.
[[nodiscard]] float places_height(const Touch& touch, float width, const desk::CheckView& check);

/// Chooses the place in the draft. Arrow keys left and right move too. Scrolls when it must.
void places_panel(Touch& touch, const Rect& at, const desk::CheckView& check, RunDraft& draft);

}  // namespace wm::screens
