#include "audit/withdrawn.hpp"

#include <fmt/format.h>

namespace wm::audit {

std::optional<std::string> withdrawn_in_words(const record::CheckState& check) {
    using measure::Outcome;
    if (check.outcome != Outcome::Open) return std::nullopt;
    for (const auto& [place, hash] : check.latest) {
        const auto* reading = check.find(hash);
        if (reading == nullptr || reading->because.empty()) continue;
        // A reading that never proved anything lost nothing.
        if (reading->judgements.front().place_outcome == Outcome::Open || reading->judged().place_outcome != Outcome::Open) continue;
        // Who conceded it before accepted what was read then, not that nothing is known.
        const bool conceded_since = check.concession && check.concession->origin.order > check.rejudgements.back().first.order;
        if (conceded_since) return std::nullopt;
        return fmt::format("{} ({})", evidence_withdrawn, reading->because.back());
    }
    return std::nullopt;
}

}  // namespace wm::audit
