// The six outcomes a check can have, their words, and which of two is the worse.
#pragma once

#include <optional>
#include <string_view>

namespace wm::measure {

/// Facts, reports and the journal use the words of `in_words`, never the enumerator.
enum class Outcome { Open, Conforms, DoesNotConform, Inconclusive, Deferred, NotApplicable };

/// "open", "conforms", "does not conform", "inconclusive", "deferred", "not applicable".
[[nodiscard]] std::string_view in_words(Outcome outcome);

/// The outcome written so, letter for letter; nullopt for any other text.
[[nodiscard]] std::optional<Outcome> outcome_named(std::string_view words);

/// The one that counts where two stand for the same check: does not conform, inconclusive, open,
/// deferred, conforms, not applicable, from worst to best.
[[nodiscard]] Outcome worse(Outcome one, Outcome other);

}  // namespace wm::measure
