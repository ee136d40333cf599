// Judging one answer, of whatever kind, at the place it was given for.
#pragma once

#include <string>

#include "checklist/evaluate.hpp"
#include "checklist/judge.hpp"
#include "checklist/readings.hpp"

namespace wm::checklist {

/// One answer at its place; series and measurands included.
[[nodiscard]] Judged judge_answer(const Check& check, const ReadingInput& reading,
                                  const Answer& answer, const Given& given);

/// A judgement without a number.
[[nodiscard]] Judged judged_as(Outcome outcome, std::string why);

/// Applies the bands of the check to a reading outside its tolerance: what the checklist calls
/// inconclusive becomes so, and a concession is possible or not, never where someone can be hurt.
void soften(const Check& check, Judged& judged, const Given& given);

}  // namespace wm::checklist
