// Gauges that wander away from what the other gauges read at the same pressure.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "audit/charts.hpp"
#include "audit/results.hpp"
#include "problem/result.hpp"

namespace wm::audit {

/// One gauge beside the others: each reading less the median of what other gauges read at the same
/// check in the same street, in standard deviations of such differences.
struct GaugeDrift {
    std::string instrument;
    std::vector<std::string> days;         ///< of each reading, oldest first
    std::vector<std::string> jobs;
    std::vector<double> differences;       ///< kPa
    CumulativeSum sums;                    ///< slack 0.5, decision 5, in deviations; signal at the decision
    double deviation = 0.0;                ///< kPa, robust, of all gauges
    double highest = 0.0;                  ///< highest sum reached, either side
    bool upward = true;                    ///< on which side
    std::size_t onset = 0;                 ///< first reading of the climb to the highest sum
    std::size_t peak = 0;                  ///< the reading that reached it
    double p = 1.0;                        ///< chance of a sum that high in so many readings, drifting nowhere
};

/// Gauges with at least `least` readings that can be compared; a new calibration starts anew. A
/// street needs twelve readings of other gauges, and one standard error of their median is granted
/// to the gauge beside the slack; beyond three deviations a reading counts as three. A gauge that stands out is no witness against the others from the
/// day its climb began. Sorted by p.
/// Source of the chart: NIST/SEMATECH e-Handbook 6.3.2.3; ISO 7870-4.
[[nodiscard]] std::vector<GaugeDrift> gauge_drifts(const AuditTable& table, const std::string& first_day,
                                                   const std::string& last_day, std::size_t least = 8);

/// Average number of readings until one side of a cumulative sum passes h by chance alone, in
/// deviations, for readings that are normal and drift nowhere. Problems: k or h not above 0.
/// Source: Siegmund 1985, Sequential Analysis, eq. 2.56: (e^(2kb) - 2kb - 1) / (2k²), b = h + 1.166.
[[nodiscard]] Result<double> quiet_run_length(double slack, double decision);

/// Chance that in `readings` quiet readings one of the two sides passes h: the sides and the times
/// taken as independent, 1 - exp(-2 · readings / run length).
[[nodiscard]] Result<double> chance_of_sum(double slack, double decision, double readings);

}  // namespace wm::audit
