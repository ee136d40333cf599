// The facts of page one.
#pragma once

#include "desk/report_of.hpp"

namespace wm::desk {

/// "south-west", for degrees from true north.
[[nodiscard]] std::string bearing_word(double degrees);

void fill_page_one(handover::ReportInput& input, const JobInHand& job, const JobView& view,
                   const ReportSurroundings& around);

}  // namespace wm::desk
