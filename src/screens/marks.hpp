// Outcome marks on keys and in rows: always shape and word together.
#pragma once

#include <string>

#include "measure/outcome.hpp"
#include "screens/touch.hpp"

namespace wm::screens {

/// The shape alone, in the middle of `at`, as large as fits; only where the word stands beside it.
void outcome_shape(const Touch& touch, const Rect& at, measure::Outcome outcome);

/// Shape and word in one row.
void outcome_words(Touch& touch, const Rect& at, measure::Outcome outcome, Face face);

/// A row key with the shape on the left, words, a smaller line, and the outcome's word on the
/// right.
struct MarkedRow {
    measure::Outcome outcome = measure::Outcome::Open;
    std::string words = {};
    std::string small = {};
    KeyState state = KeyState::Ready;
};
[[nodiscard]] bool marked_row(Touch& touch, std::string_view name, const Rect& at,
                              const MarkedRow& row);

/// "H: can hurt someone" and so on for a severity letter of a checklist.
[[nodiscard]] std::string severity_words(std::string_view letter);
/// The same where there is little room: "H: hurts".
[[nodiscard]] std::string severity_word(std::string_view letter);

}  // namespace wm::screens
