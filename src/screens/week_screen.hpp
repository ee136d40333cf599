// The week audit: severe things first, what failed with its interval, findings, samples.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "screens/action_sheet.hpp"
#include "screens/complaint_sheet.hpp"
#include "screens/touch.hpp"
#include "screens/trace_sheet.hpp"
#include "screens/week_filter.hpp"
#include "screens/world.hpp"

namespace wm::screens {

struct WeekDraft {
    std::string subject;  ///< whose jobs are shown
    std::string check;    ///< that the jobs are shown for; empty for all
    std::vector<std::string> jobs;
    std::string week;     ///< that the jobs are of, where it can be opened
    std::optional<desk::FindingView> finding;  ///< that is shown, if it is one
    ActionDraft action;
    FilterDraft filter;
    TraceDraft trace;
    ComplaintDraft complaint;
    bool shows_put_right = false;  ///< what could have hurt someone and was put right, one by one
};

/// A job, and the check in it that is meant; empty for the job as a whole.
struct JobPlace {
    std::string job, check;
};

/// Gives what a person wants to look at.
[[nodiscard]] std::optional<JobPlace> week_screen(Touch& touch, const Rect& at, const World& world,
                                                  WeekDraft& draft, Requests& requests);

}  // namespace wm::screens
