// The week of all jobs at hand.
#pragma once

#include "audit/week.hpp"
#include "desk/desk.hpp"

namespace wm::desk {

/// Titles and severities of all checks.
[[nodiscard]] audit::CheckCards cards_of(const checklist::Library& library);

/// Refuses what is no ISO week; a week without results gives empty lists.
[[nodiscard]] Result<WeekView> week_view(Desk& desk, const std::string& week,
                                         const audit::WeekSettings& settings = {});
[[nodiscard]] Result<std::vector<std::string>> weeks(Desk& desk);

/// The week as a letter (PDF), not sealed.
[[nodiscard]] Result<std::string> week_letter(Desk& desk, const WeekView& week);

}  // namespace wm::desk
