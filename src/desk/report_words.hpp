// The facts of page one.
#pragma once

#include "desk/report_of.hpp"

namespace wm::desk {

/// "south-west", for degrees from true north.
[[nodiscard]] std::string bearing_word(double degrees, const language::Language& say = {});

/// Into `input`, in the customer's language.
void fill_page_one(handover::ReportInput& input, const JobInHand& job, const JobView& view,
                   const ReportSurroundings& around);

/// The language that the job's facts name, if it is one of `languages`; else English.
[[nodiscard]] language::Language language_of(const JobInHand& job,
                                             const std::map<std::string, language::Language, std::less<>>& languages);

}  // namespace wm::desk
