// The supplement to a handover report: what was put off and has been read since.
#pragma once

#include "desk/in_hand.hpp"
#include "desk/view.hpp"
#include "handover/report_input.hpp"

namespace wm::desk {

/// Makes a whole report into the supplement that follows the first handover: the checks read since
/// then and those still put off, the instruments and cautions that belong to them. The job must be
/// handed over. `zone_minutes` says in which zone the first report's day is told.
void make_supplement(handover::ReportInput& input, const JobInHand& job, const JobView& view, int zone_minutes);

}  // namespace wm::desk
