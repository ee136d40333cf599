// Exact tests on small counts, and false discoveries among many of them.
#pragma once

#include <span>
#include <vector>

#include "audit/shares.hpp"
#include "problem/result.hpp"

namespace wm::audit {

/// Probabilities of what was seen or something more extreme, if nothing distinguishes the two.
/// "Greater" is towards more failures of the first. The mid values count half of what is just as
/// extreme as what was seen: they are less cautious, and even out over many tests.
struct ExactTest {
    double two_sided = 1.0;  ///< not twice a one-sided one
    double greater = 1.0;
    double less = 1.0;
    double mid_two_sided = 1.0;
    double mid_greater = 1.0;
    /// The smallest `greater` these margins allow, known before anyone looks at who failed.
    double least_greater = 1.0;
};

/// Two groups side by side, such as a crew and all others.
struct Comparison {
    Tally first;
    Tally second;
};

/// Fisher's exact test. Two-sided: all tables no more likely than the one seen (within 1e-7).
/// Problems: a negative count, more failed than tried, no tries at all.
/// Source: Fisher 1935; definition as in Agresti, Categorical Data Analysis.
[[nodiscard]] Result<ExactTest> fisher_exact(const Comparison& comparison);

/// The same question put to like beside like: each stratum (one roof, kind and season) is compared
/// within itself, and the failures of the first are summed. Conditional on all margins the sum is
/// distributed as a sum of independent hypergeometric counts. Strata where one side has no tries
/// say nothing and change nothing. One stratum gives fisher_exact.
/// Problems: no strata, and as above within each; one side may have no tries.
/// Source: exact conditional test of a common odds ratio of 1; Agresti, as above (from memory).
[[nodiscard]] Result<ExactTest> stratified_exact(std::span<const Comparison> strata);

/// Benjamini and Hochberg: q of each p in the order given. Of all findings with q up to α, a share
/// of at most α is false in the long run. Problems: no p, a p outside 0 to 1.
/// Source: Benjamini and Hochberg 1995, JRSS B 57:289-300.
[[nodiscard]] Result<std::vector<double>> false_discovery(std::span<const double> p_values);

}  // namespace wm::audit
