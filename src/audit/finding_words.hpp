// The sentences of findings, and what to do about each.
#pragma once

#include <string>
#include <string_view>

#include "audit/drift.hpp"
#include "audit/questions.hpp"
#include "audit/standing.hpp"

namespace wm::audit {

/// "crew and check", "batch and check", "crew, check and household", "recent weeks and check",
/// "crew and deferrals".
[[nodiscard]] std::string_view kind_in_words(QuestionKind kind);

/// "about 1 in 4,000", "less than 1 in 1,000,000".
[[nodiscard]] std::string chance_in_words(double p);

/// Figures of both sides, the chance, and what was kept alike; names nobody's intention.
[[nodiscard]] std::string sentence_of(const Question& question, const CheckCards& cards, double p);
[[nodiscard]] std::string sentence_of(const GaugeDrift& drift, const CheckCards& cards);

/// The next step, in the imperative; the first sentence stands alone and names what it is about. Who is concerned is heard first.
/// Held back is only what is still fitted or read: of a batch that is used up its open jobs are traced, of a gauge that was
/// calibrated since or lies idle what stands on it. The caveat of the finding is in it.
[[nodiscard]] std::string advice_for(const Question& question, const BatchStanding& batch = {});
[[nodiscard]] std::string advice_for(const GaugeDrift& drift, const GaugeStanding& gauge = {});

/// Whether advice of a batch or a gauge asks for something now: where nothing is left to hold or to trace it says so first.
[[nodiscard]] bool is_order(std::string_view advice);

/// Ends the sentence of a finding that is weaker than usual.
inline constexpr std::string_view look_first = "look before you speak";

}  // namespace wm::audit
