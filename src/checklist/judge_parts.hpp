// Judging answers of every kind, and putting the places and parts of a check together.
#pragma once

#include <string_view>
#include <vector>

#include "checklist/evaluate.hpp"
#include "checklist/judge.hpp"
#include "checklist/readings.hpp"

namespace wm::checklist {

/// One answer at the place it was given for; series and measurands included.
[[nodiscard]] Judged judge_answer(const Check& check, const ReadingInput& reading,
                                  const Answer& answer, const Given& given);

/// All latest answers together. A problem if one of them cannot be read.
[[nodiscard]] Result<Judged> judge_all(const Check& check, const std::vector<ReadingInput>& latest,
                                       const Context& context, const NeededPlaces& needed);

/// A computed check from facts and other checks; open, naming its rule, if it has no expression.
[[nodiscard]] Judged judge_computed(const Check& check, const Context& context);

/// What is allowed where no number is asked for: the accepted answers, the condition.
[[nodiscard]] Limits limits_in_words(const Check& check, const Part* part, const Context& context);

}  // namespace wm::checklist
