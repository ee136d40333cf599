// What a lead has to do in a week, in short lines: the first thing on the page, in the letter and on the command line.
#pragma once

#include <string>
#include <vector>

#include "desk/view.hpp"

namespace wm::desk {

/// At most `most` lines in the order of their weight: what can still hurt someone, findings of which nobody removes the cause
/// yet, causes whose day has passed, customers who wait, questions, what was put off and forgotten, roofs to look at. The last
/// line counts what did not fit. Empty where there is nothing to do.
[[nodiscard]] std::vector<std::string> to_do_of(const WeekView& week, std::size_t most = 10);

}  // namespace wm::desk
