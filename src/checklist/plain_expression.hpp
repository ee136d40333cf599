// An expression as a person would say it.
#pragma once

#include <string>

#include "checklist/evaluate.hpp"
#include "checklist/expression.hpp"
#include "checklist/model.hpp"

namespace wm::checklist {

/// "way of mounting is not ballast and peak gust of the place is at least 30 m/s": names by what they mean, functions and
/// signs in words, settings by their value where a library is given, other checks by their title.
[[nodiscard]] std::string expression_in_words(const Expression& expression, std::uint32_t node,
                                              const Library* library = nullptr);

/// The same as what is demanded of a reading: "at most the larger of 10 kPa and 2 % of the first reading". A branch that
/// the facts of the house decide is followed, and the other one is not told.
[[nodiscard]] std::string demand_in_words(const Expression& expression, const Given& given);

/// A number that is worked out of readings: "the fall from the first reading to the smallest". Of a branch that the facts
/// of the house decide only what is taken is told, and nothing of a term that is nought.
[[nodiscard]] std::string number_in_words(const Expression& expression, const Given& given);

}  // namespace wm::checklist
