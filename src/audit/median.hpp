// The middle of some figures, and where the true middle likely lies, without any shape assumed.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

namespace wm::audit {

/// Half of the figures lie at or below `median`; `low` and `high` are figures of the sample between
/// which the true median lies with at least 95 %.
struct MedianInterval {
    double median = 0.0;
    double low = 0.0, high = 0.0;
};

/// Order statistics: low is the r-th smallest with the largest r for which the binomial of n tries
/// and one half gives at most 0.025 below r, high its mirror. Source: Conover, Practical
/// Nonparametric Statistics, 3rd ed., 3.2 (from memory). nullopt for fewer than 6 figures, which
/// cannot hold 95 %.
[[nodiscard]] std::optional<MedianInterval> median_interval(std::vector<std::uint32_t> figures);

/// nullopt for none.
[[nodiscard]] std::optional<double> median_of(std::vector<std::uint32_t> figures);

}  // namespace wm::audit
