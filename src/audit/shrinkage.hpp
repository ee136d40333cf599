// Shares of crews drawn towards the common one, the more the fewer visits they have.
#pragma once

#include <limits>
#include <span>
#include <vector>

#include "audit/shares.hpp"
#include "problem/result.hpp"

namespace wm::audit {

struct ShrunkenShare {
    double share = 0.0;
    Interval credible;  ///< 95 %; just the share where nothing distinguishes the crews
};

struct Shrinkage {
    double common_share = 0.0;
    double correlation = 0.0;  ///< ρ, 0 to 0.999: how alike the visits of one crew are
    double weight =
        std::numeric_limits<double>::infinity();  ///< M, visits the common share is worth
    std::vector<ShrunkenShare> crews;             ///< in the order given
};

/// Beta-binomial moments and empirical Bayes. ρ = 0 (M infinite) says that the counts hold no
/// evidence of any difference. A rank by these shares is still uncertain: show the interval.
/// Problems: fewer than three crews, a crew without visits, more failed than tried, no crew with
/// more than one visit.
/// Source: Kleinman 1973, JASA 68:46-54, weights n; Morris 1983 for the shrinkage.
[[nodiscard]] Result<Shrinkage> shrunken_shares(std::span<const Tally> crews);

}  // namespace wm::audit
