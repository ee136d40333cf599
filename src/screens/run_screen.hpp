// The run: plant drawing, stages, one check at a time, and the row of keys beneath it.
#pragma once

#include "screens/run_draft.hpp"

namespace wm::screens {

void run_screen(Touch& touch, const Rect& at, const World& world, RunDraft& draft,
                std::vector<SeriesRun>& runs, Requests& requests);

}  // namespace wm::screens
