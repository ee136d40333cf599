// What the forms that take a reading share: a reading out of the words of the command line, and the answer to it.
#pragma once

#include <string>
#include <vector>

#include "app/arguments.hpp"
#include "app/output.hpp"
#include "desk/intent.hpp"
#include "desk/view.hpp"
#include "problem/result.hpp"

namespace wm::app {

/// Kind WrongUse where job, check or value is missing.
[[nodiscard]] Result<desk::TakeReading> reading_from(const Arguments& arguments);

/// Exit code 1 where one of them does not conform, is inconclusive or no evidence. `answers` is never empty.
[[nodiscard]] Output answered(const std::vector<desk::Answer>& answers, Form form);

}  // namespace wm::app
