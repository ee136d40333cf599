// Putting the places and parts of a check together, and the checks the tool works out by itself.
#pragma once

#include <optional>
#include <vector>

#include "checklist/evaluate.hpp"
#include "checklist/judge.hpp"
#include "checklist/readings.hpp"

namespace wm::checklist {

/// What an answer stands for where an expression names it; none of a series.
[[nodiscard]] std::optional<Value> value_of(const Answer& answer);

/// All latest answers together. A problem if one of them cannot be read.
[[nodiscard]] Result<Judged> judge_all(const Check& check, const std::vector<ReadingInput>& latest,
                                       const Context& context, const NeededPlaces& needed);

/// A computed check from facts and other checks; open, naming its rule, if it has no expression.
[[nodiscard]] Judged judge_computed(const Check& check, const Context& context);

/// What is allowed where no number is asked for: the accepted answers, the condition.
[[nodiscard]] Limits limits_in_words(const Check& check, const Part* part, const Context& context);

}  // namespace wm::checklist
