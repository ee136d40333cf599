// One check: what is asked and why, the entry that fits it, and what the value would mean.
#pragma once

#include "screens/run_draft.hpp"

namespace wm::screens {

/// Fills `at` with the check at hand. Asks for a preview whenever what is typed has changed.
void check_panel(Touch& touch, const Rect& at, const desk::CheckView& check, const World& world,
                 RunDraft& draft, std::vector<SeriesRun>& runs, Requests& requests);

/// Title and outcome in shape and word, and the key to why and how, for the top of a panel about a check.
void check_head(Touch& touch, const Rect& at, const desk::CheckView& check, RunDraft& draft);

}  // namespace wm::screens
