// Clocks that were moved, as questions of the week.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "desk/desk.hpp"

namespace wm::desk {

/// Every job as its table knows it; asked only when needed.
using JobLines = std::function<Result<std::vector<store::JobLine>>()>;

/// A question for each jump told between the two days (both included, UTC), with the jobs that had been
/// begun and went on after it. Damaged entries of the stream are left out; the week names them elsewhere.
[[nodiscard]] Result<std::vector<WeekQuestionView>> clock_questions(const std::vector<record::Written>& stream, const JobLines& lines,
                                                                    const std::string& first_day, const std::string& last_day);
[[nodiscard]] Result<std::vector<WeekQuestionView>> clock_questions(Desk& desk, const std::string& first_day,
                                                                    const std::string& last_day);

}  // namespace wm::desk
