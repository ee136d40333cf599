// The facts of page one and the words explained at the end of the report.
#pragma once

#include "desk/report_of.hpp"

namespace wm::desk {

void fill_page_one(handover::ReportInput& input, const JobInHand& job, const JobView& view,
                   const ReportSurroundings& around);

[[nodiscard]] std::vector<handover::GlossaryTerm> report_glossary();

}  // namespace wm::desk
