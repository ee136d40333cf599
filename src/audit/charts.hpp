// Control charts as numbers: shares, counts, and slow drift.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "audit/shares.hpp"
#include "problem/result.hpp"

namespace wm::audit {

/// A centre line and the limits of each point. Take the centre from a quiet baseline: limits that
/// are taken from data with the signal in them hide it.
struct Chart {
    double centre = 0.0;
    std::vector<Interval> limits;
};

/// Share of failures: centre Σd/Σn, limits three standard deviations away, each with its own n,
/// kept within 0 to 1. Needs n·centre of 5 or more to be trusted, else watch_limits.
/// Problems: no counts, no tries, more failed than tried.
/// Source: NIST/SEMATECH e-Handbook 6.3.3.2; ISO 7870-2:2013.
[[nodiscard]] Result<Chart> share_chart(std::span<const Tally> baseline);

/// The limits a coming point of `tries` is watched with: those of the chart where tries times
/// centre is 5 or more, else exact binomial ones of the same false alarm rate (0.27 %).
/// Problems: a centre outside 0 to 1, no tries.
[[nodiscard]] Result<Interval> watch_limits(double centre, std::int64_t tries);

/// Counts of defects at equal opportunity: mean ± 3 roots of it, low limit at least 0. Here the
/// limits are counts. Below a mean of 5 they are exact Poisson ones of the same false alarm rate:
/// the last counts that are still quiet. Problems: no counts, a negative count.
/// Source: NIST/SEMATECH e-Handbook 6.3.3.1; ISO 7870-2:2013.
[[nodiscard]] Result<Chart> count_chart(std::span<const std::int64_t> counts);

/// Defects in an area of opportunity, such as a number of installations, above 0.
struct DefectRate {
    std::int64_t defects = 0;
    double area = 0.0;
};

/// Defects per area: centre Σc/Σa, limits ± 3 √(centre/a), low limit at least 0.
/// Problems: no counts, a negative count, an area that is not above 0.
[[nodiscard]] Result<Chart> rate_chart(std::span<const DefectRate> rates);

/// What a series is expected to do while nothing drifts.
struct DriftTarget {
    double mean = 0.0;
    double deviation = 1.0;  ///< standard, above 0
};

struct WeightedAverage {
    std::vector<double> averages;             ///< z, one per value
    std::vector<Interval> limits;             ///< one per value, wider and wider
    Interval settled;                         ///< where the limits end up
    std::optional<std::size_t> first_signal;  ///< first average beyond the settled limits
};

/// Exponentially weighted average z = λx + (1-λ)z, started at the target; limits L deviations of z.
/// Problems: no values, a deviation or L not above 0, λ outside 0 (not included) to 1.
/// Source: NIST/SEMATECH e-Handbook 6.3.2.4; ISO 7870-6.
struct WeightedAverageRule {
    double weight = 0.2;  ///< λ, 0.2 to 0.3 in practice
    double width = 3.0;   ///< L
};
[[nodiscard]] Result<WeightedAverage> weighted_average(std::span<const double> values,
                                                       const DriftTarget& target,
                                                       const WeightedAverageRule& rule = {});

struct CumulativeSum {
    std::vector<double> upward;
    std::vector<double> downward;
    std::optional<std::size_t> first_signal;  ///< first value after which a sum is beyond h
};

/// In the unit of the values: slack k is forgiven at each step, a sum beyond h signals. Half a
/// deviation and four to five deviations are usual. Both at least 0, h above 0.
/// Source: NIST/SEMATECH e-Handbook 6.3.2.3; ISO 7870-4.
struct CumulativeSumRule {
    double slack = 0.5;     ///< k
    double decision = 4.0;  ///< h
};
[[nodiscard]] Result<CumulativeSum> cumulative_sum(std::span<const double> values, double target,
                                                   const CumulativeSumRule& rule);

}  // namespace wm::audit
