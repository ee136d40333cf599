// What is useful next in a run.
#pragma once

#include <string_view>
#include <vector>

#include "desk/view.hpp"
#include "screens/series_run.hpp"

namespace wm::screens {

/// The nearest check that is worth a visit now, looking forward from `from` and then from the start: one that can be read
/// now; else one that does not conform or could not tell and is not accepted as it is; else one that waits for a hold
/// point. Signatures, what is worked out, and a series that runs and is not due are no visits. nullptr where nothing is
/// left to do, and for `from` itself.
[[nodiscard]] const desk::CheckView* next_useful(const desk::JobView& job, std::string_view from,
                                                 const std::vector<SeriesRun>& runs, std::int64_t now_s);

/// How many open checks on the way from `from` to `next` are left out because they wait for a hold point.
[[nodiscard]] int waiting_between(const desk::JobView& job, std::string_view from, std::string_view next);

}  // namespace wm::screens
