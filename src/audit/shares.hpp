// Shares of failures with their intervals, and the difference of two.
#pragma once

#include <cstdint>

#include "problem/result.hpp"

namespace wm::audit {

/// How often something failed in how many tries; 0 <= failed <= tries.
struct Tally {
    std::int64_t failed = 0;
    std::int64_t tries = 0;

    [[nodiscard]] double share() const {
        return static_cast<double>(failed) / static_cast<double>(tries);
    }
    friend bool operator==(const Tally&, const Tally&) = default;
};

/// Two ends: of a share within 0 to 1, of a difference of shares within -1 to 1, of a chart in the
/// unit of its points.
struct Interval {
    double low = 0.0;
    double high = 1.0;
};

/// Interval for a share that stays honest with few tries; 0 of 20 still allows 16 %.
/// Problems: no tries, more failed than tried, a confidence outside 0 to 1.
/// Source: Wilson 1927; Newcombe 1998, Statistics in Medicine 17:857-872, method 3.
[[nodiscard]] Result<Interval> wilson(const Tally& tally, double confidence = 0.95);

/// Exact interval: never covers less than it says. Problems as for wilson.
/// Source: Clopper and Pearson 1934, by beta quantiles.
[[nodiscard]] Result<Interval> clopper_pearson(const Tally& tally, double confidence = 0.95);

struct ShareDifference {
    double difference = 0.0;  ///< first share minus second
    Interval interval;

    /// An interval that contains 0 proves nothing; it does not prove that nothing changed.
    [[nodiscard]] bool is_proven() const { return interval.low > 0.0 || interval.high < 0.0; }
};

/// Problems as for wilson, for either of the two.
/// Source: Newcombe 1998, Statistics in Medicine 17:873-890, method 10.
[[nodiscard]] Result<ShareDifference> share_difference(const Tally& first, const Tally& second,
                                                       double confidence = 0.95);

}  // namespace wm::audit
