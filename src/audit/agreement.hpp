// How far two visitors of the same house agree, beyond what chance would give.
#pragma once

#include <cstdint>

#include "audit/shares.hpp"
#include "problem/result.hpp"

namespace wm::audit {

/// Answers of two visitors to one check: first letter of the first visitor, second of the second.
struct AnswerPairs {
    std::int64_t both_pass = 0, pass_fail = 0, fail_pass = 0, both_fail = 0;
};

/// 1 = always agree, 0 = no more than chance; the interval lies within -1 and 1.
struct Agreement {
    double kappa = 0.0;
    Interval interval;
};

/// Problems: a negative count, no pairs, or answers that are all the same on both sides, where chance
/// alone gives full agreement.
/// Source: Cohen 1960, Educational and Psychological Measurement 20:37-46; standard error of Fleiss,
/// Cohen and Everitt 1969, Psychological Bulletin 72:323-327 (from memory).
[[nodiscard]] Result<Agreement> cohen_kappa(const AnswerPairs& pairs, double confidence = 0.95);

}  // namespace wm::audit
