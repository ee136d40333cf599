// The sentences of findings, and what to do about each.
#pragma once

#include <string>
#include <string_view>

#include "audit/drift.hpp"
#include "audit/questions.hpp"

namespace wm::audit {

/// "crew and check", "batch and check", "crew, check and household", "recent weeks and check",
/// "crew and deferrals".
[[nodiscard]] std::string_view kind_in_words(QuestionKind kind);

/// "about 1 in 4,000", "less than 1 in 1,000,000".
[[nodiscard]] std::string chance_in_words(double p);

/// Figures of both sides, the chance, and what was kept alike; names nobody's intention.
[[nodiscard]] std::string sentence_of(const Question& question, const CheckCards& cards, double p);
[[nodiscard]] std::string sentence_of(const GaugeDrift& drift, const CheckCards& cards);

/// The next step, in the imperative. Who is concerned is heard first.
[[nodiscard]] std::string advice_for(const Question& question);
[[nodiscard]] std::string advice_for(const GaugeDrift& drift);

}  // namespace wm::audit
