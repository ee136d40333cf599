// What was entered at a check, entry by entry: the evidence behind what stands.
#pragma once

#include "screens/run_draft.hpp"

namespace wm::screens {

/// Oldest first, each with its verdict, what was done, by whom and when. Nothing is entered here: a key leads to the check.
void record_panel(Touch& touch, const Rect& at, const desk::CheckView& check, RunDraft& draft);

}  // namespace wm::screens
