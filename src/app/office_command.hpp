// What other forms ask of the office's record in PostgreSQL.
#pragma once

#include <string>
#include <vector>

#include "app/commands.hpp"
#include "audit/results.hpp"
#include "audit/week.hpp"

namespace wm::app {

struct OfficeWeek {
    desk::WeekView view;             ///< empty under --list
    std::vector<std::string> weeks;  ///< under --list
    audit::CheckCards cards;
};
/// `week` under --connect: from all crews, or from as much as the role may see.
[[nodiscard]] Result<OfficeWeek> week_at_office(const Arguments& arguments, const World& world, const audit::WeekSettings& settings);

}  // namespace wm::app
