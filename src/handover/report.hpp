// Draws the handover report: page one for the customer, then everything that was measured.
#pragma once

#include <string>

#include "handover/report_input.hpp"
#include "problem/result.hpp"

namespace wm::handover {

/// The whole file, not sealed yet, with an empty place for the seal (seal.hpp fills it). The same
/// input gives the same bytes. A problem for a photo that does not decode, a missing font, or a
/// square code that would not fit.
///
/// Order: page one, where the customer's language is another also in the company's; plant drawing with its list; what was found and put right, deferrals and
/// concessions; facts; every check by stage; photos; instruments; signatures; record; glossary;
/// cautions.
[[nodiscard]] Result<std::string> draw_report(const ReportInput& input);

}  // namespace wm::handover
