// Whether a corrective action did anything: failures before and after, with the interval of the difference.
#pragma once

#include <optional>
#include <string>

#include "audit/columns.hpp"
#include "audit/shares.hpp"
#include "record/entry.hpp"

namespace wm::audit {

/// What the action was about, in the words of its finding (findings.hpp).
struct EffectScope {
    std::string kind;     ///< "crew and check", "crew, check and household", "batch and check", …
    std::string subject;  ///< crew, "relief valve RV-K17", instrument
    std::string check;
};

struct EffectSpan {
    std::string done_on;    ///< day on which the action was carried out; it counts as before
    int after_days = 90;    ///< so many days from the next one on
    int before_days = 182;  ///< what a finding looks back on
};

struct Effect {
    Tally before, after;
    Tally others_before, others_after;  ///< the same check elsewhere in the same days
    std::optional<ShareDifference> difference;  ///< share before less share after; none without tries on both sides
    record::EffectVerdict verdict = record::EffectVerdict::NoProof;
    std::string before_from, after_from, until;  ///< days, each included
    std::string sentence;
};

/// Tries of the crew (in homes with vulnerable people where the finding was about those), of the
/// check in all jobs for a batch (the remedy is to fit another one) and for recent weeks, deferrals
/// forgotten after 14 days, readings of a gauge more than two deviations from the others. It helped
/// when the whole 95 % interval of the difference lies above 0, it got worse when it lies below,
/// else nothing is proved. A finding is chosen because its share is high, so some of any fall is
/// chance: the others' figures stand beside it, and the sentence says when they moved as well.
/// A day that is none gives an effect without tries.
/// Source of the interval: Newcombe 1998, method 10 (share_difference).
[[nodiscard]] Effect effect_of(const Columns& columns, const CheckCards& cards, const EffectScope& scope,
                               const EffectSpan& span);

}  // namespace wm::audit
