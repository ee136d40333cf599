// The facts of page one.
#pragma once

#include "desk/report_of.hpp"

namespace wm::desk {

void fill_page_one(handover::ReportInput& input, const JobInHand& job, const JobView& view,
                   const ReportSurroundings& around);

}  // namespace wm::desk
