// Fair limits for crews with different numbers of visits.
#pragma once

#include <cstdint>
#include <span>

#include "audit/shares.hpp"
#include "problem/result.hpp"

namespace wm::audit {

/// Exact binomial limits around a share that all have in common, interpolated between counts.
/// `alpha` is the share of crews outside by chance: 0.05, or 0.002 where several are compared.
/// Problems: a target or alpha not between 0 and 1, no tries.
/// Source: Spiegelhalter 2005, Statistics in Medicine 24:1185-1202, appendix.
struct FunnelQuestion {
    double target = 0.0;
    std::int64_t tries = 0;
    double alpha = 0.002;
};
[[nodiscard]] Result<Interval> funnel_limits(const FunnelQuestion& question);

/// How much wider crews scatter around the target than chance makes them: φ, the mean square of
/// their distances in standard deviations, the outermost tenth on each side drawn in. Above 1 the
/// limits deserve to be widened by √φ. Problems as above; fewer than two crews.
[[nodiscard]] Result<double> overdispersion(std::span<const Tally> crews, double target);

}  // namespace wm::audit
