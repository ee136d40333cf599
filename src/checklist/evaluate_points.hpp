// One number out of many readings: first, largest, mean, the smallest of the last ten minutes.
#pragma once

#include <vector>

#include "checklist/evaluate.hpp"
#include "checklist/functions.hpp"

namespace wm::checklist {

/// `column` holds one amount a point (at least one), `times_s` their times, empty for places. The
/// late functions take the points of the last `late_s` seconds, the end of the series included.
[[nodiscard]] Evaluated summary_of(Function function, const std::vector<units::Amount>& column,
                                   const std::vector<double>& times_s, double late_s);

}  // namespace wm::checklist
