// What else can be done with a check: put off, accept, state a fact, report, leave.
#pragma once

#include "screens/run_draft.hpp"

namespace wm::screens {

/// Fills `at` for every mode but Reading, Correcting, Photo, Stages and Plant.
void more_panel(Touch& touch, const Rect& at, const desk::CheckView& check, const World& world,
                RunDraft& draft, Requests& requests);

/// The date `days` after the day of an RFC 3339 time, as "2027-03-06"; empty if it is no time.
[[nodiscard]] std::string day_after(std::string_view now, int days);
/// "Monday" of a day or an RFC 3339 time; empty if it is none.
[[nodiscard]] std::string weekday_of(std::string_view text);

}  // namespace wm::screens
