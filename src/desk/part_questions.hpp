// What was missing, short or another when the parts were ticked, asked about where it is fitted.
#pragma once

#include "desk/desk.hpp"

namespace wm::desk {

/// Each doubt of the pick list goes into `beforehand` of the checks of this job that depend on the part and were not answered
/// yet, and among the questions of the job while there is such a check. Nothing where nobody ticked a part. Where the list of
/// parts cannot be read, that is the question: a job is shown all the same.
void ask_about_parts(Desk& desk, const JobInHand& hand, JobView& view);

}  // namespace wm::desk
