// What the store puts together for a job, behind the key "More".
#pragma once

#include "screens/run_draft.hpp"

namespace wm::screens {

/// Each part with its amount, how it came about and whether it is there, at the store or at the van, and the instruments;
/// below, keys that go back and that make the sheet to tick.
void parts_sheet(Touch& touch, const Rect& at, const World& world, RunDraft& draft, Requests& requests);

}  // namespace wm::screens
