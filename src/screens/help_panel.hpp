// Why a check matters, how it is measured, what goes wrong at it, with a drawing where one says it better.
#pragma once

#include "screens/run_draft.hpp"

namespace wm::screens {

/// In place of the check; Escape and the key "Back to the check" end it.
void help_panel(Touch& touch, const Rect& at, const desk::CheckView& check, RunDraft& draft);

}  // namespace wm::screens
