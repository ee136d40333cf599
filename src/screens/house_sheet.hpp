// All that is known of a house and may be asked of it, to be stated one by one.
#pragma once

#include "screens/run_draft.hpp"

namespace wm::screens {

/// A list of every fact by table; a touched one opens with a field, or with its words to choose from.
void house_sheet(Touch& touch, const Rect& at, const desk::JobView& job, RunDraft& draft, Requests& requests);

}  // namespace wm::screens
