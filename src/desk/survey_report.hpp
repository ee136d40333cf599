// The report of a survey, as the customer gets it.
#pragma once

#include <string>

#include "desk/desk.hpp"
#include "handover/survey_report.hpp"
#include "problem/result.hpp"

namespace wm::desk {

/// Refused for a job that is no survey, and while a check of the survey is open. Leave that was not given blocks as any
/// other hold point does. A survey that nobody has signed makes a draft.
[[nodiscard]] Result<handover::SurveyReport> survey_report(Desk& desk, const std::string& job);

struct SurveyPaper {
    std::string file;       ///< the PDF
    std::string unstamped;  ///< why the seal has no time stamp although a server is set; "" if it has, or for a draft
};

/// Sealed by the company as a handover report is; a draft is not. Nothing is written to the journal.
[[nodiscard]] Result<SurveyPaper> survey_paper(Desk& desk, const handover::SurveyReport& report);

}  // namespace wm::desk
