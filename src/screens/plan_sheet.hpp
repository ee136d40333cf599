// The days ahead, from the list of jobs: who goes where, what the weather must hold, what is not in order by then, what to load.
#pragma once

#include <optional>
#include <string>

#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

struct PlanDraft {
    bool is_open = false;
    std::string first;  ///< day; seven days are shown; empty for today
    std::string asked;  ///< the first day that was asked for last
};

/// Opens it at the day, and asks for its plan.
void open_plan(PlanDraft& draft, const std::string& day, Requests& requests);

/// Jobs by day, then what was put off until then; below, keys that go back, a week on and a week back, and that make the calendar file.
/// Only rows that hold all words of the search. Gives the job that was touched.
[[nodiscard]] std::optional<std::string> plan_sheet(Touch& touch, const Rect& at, const World& world, std::string_view search, PlanDraft& draft,
                                                    Requests& requests);

}  // namespace wm::screens
