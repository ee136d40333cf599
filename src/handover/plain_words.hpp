// Trade words that may stand on page one, each with a meaning in everyday words.
#pragma once

#include <string_view>
#include <vector>

#include "handover/report_input.hpp"

namespace wm::handover {

/// The trade words that a text holds, in the order in which it holds them, each once. A meaning has
/// at most six words and no trade word of its own. The longest phrase counts: "mixing valve" is not
/// also a "valve". Plural and singular are one word; capitals do not matter.
/// The words are those of the company's language, in which checks are named; the meanings are in the customer's.
[[nodiscard]] std::vector<GlossaryTerm> trade_words_in(std::string_view text, const language::Language& say = {});

}  // namespace wm::handover
