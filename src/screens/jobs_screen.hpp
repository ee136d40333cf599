// The jobs: today's, waiting, handed over; search; a new one from a facts file.
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "screens/complaint_sheet.hpp"
#include "screens/plan_sheet.hpp"
#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

/// Calling: a customer is on the telephone, and a touch names the house.
enum class JobsMode { List, New, Calling };

/// The rows that a search left, by the part of the list they stand in; kept from frame to frame, for
/// ten thousand jobs cannot be looked through sixty times a second.
struct FoundJobs {
    std::array<std::vector<std::size_t>, 3> rows;  ///< today, waiting, handed over (newest first)
    std::string search, day;
    int look = -1;  ///< World::jobs_look it was made from
    std::size_t of = 0;
};

struct JobsDraft {
    JobsMode mode = JobsMode::List;
    std::string search;
    std::string checklist;
    std::string facts_path;
    std::string after;
    bool practice = false;
    bool without_facts = false;  ///< nothing is known of the house yet
    FoundJobs found;
    ComplaintDraft complaint;
    PlanDraft plan;
};

/// True if every word of the search stands somewhere in the row, upper and lower case alike.
[[nodiscard]] bool matches(const desk::JobRow& row, std::string_view search);

/// Gives the job that was opened.
[[nodiscard]] std::optional<std::string> jobs_screen(Touch& touch, const Rect& at,
                                                     const World& world, JobsDraft& draft,
                                                     Requests& requests);

}  // namespace wm::screens
