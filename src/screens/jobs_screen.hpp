// The jobs: today's, waiting, handed over; search; a new one from a facts file.
#pragma once

#include <string>

#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

enum class JobsMode { List, New };

struct JobsDraft {
    JobsMode mode = JobsMode::List;
    std::string search;
    std::string checklist;
    std::string facts_path;
    std::string after;
    bool practice = false;
};

/// True if every word of the search stands somewhere in the row, upper and lower case alike.
[[nodiscard]] bool matches(const desk::JobRow& row, std::string_view search);

/// Gives the job that was opened.
[[nodiscard]] std::optional<std::string> jobs_screen(Touch& touch, const Rect& at,
                                                     const World& world, JobsDraft& draft,
                                                     Requests& requests);

}  // namespace wm::screens
