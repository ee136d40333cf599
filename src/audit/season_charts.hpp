// The season behind one week, as charts: failures week by week, and crews by how much they did.
#pragma once

#include <string>
#include <vector>

#include "audit/columns.hpp"
#include "audit/shares.hpp"

namespace wm::audit {

/// One week beside the weeks before it.
struct SeasonPoint {
    std::string week;
    Tally tally;
    double centre = 0.0;
    Interval limits;       ///< of this week's tries; a false alarm in 0.27 % of quiet weeks
    bool signals = false;  ///< the share lies outside
    std::vector<std::size_t> jobs{};  ///< with a failure
};

/// Weeks with results among the last `weeks` up to and with `week`, oldest first. The centre is the
/// share of all weeks shown but the last one and those that signal themselves, so that a bad week excuses neither itself nor
/// the next; empty while there is no week before it. Limits: watch_limits (charts.hpp).
[[nodiscard]] std::vector<SeasonPoint> season_points(const Columns& columns, const std::string& week, int weeks);

struct FunnelPoint {
    std::string crew;
    Tally tally;
    bool outside = false;  ///< of the 99.8 % limits, widened
    std::vector<std::size_t> jobs{};  ///< with a failure between the days
};
struct FunnelLimits {
    double tries = 0.0;
    Interval inner, outer;  ///< 95 % and 99.8 %, widened by the spread
};
struct CrewFunnel {
    double target = 0.0;  ///< share of all crews together
    double spread = 1.0;  ///< φ of funnel.hpp, at least 1; the limits are √φ as wide as chance alone makes them
    std::vector<FunnelPoint> points;  ///< by name
    std::vector<FunnelLimits> limits; ///< at rising tries, from 1 to the most a crew has
};

/// All checks of each crew between the days, both included. Unlike roofs and kinds are not told apart
/// here: the picture shows who did how much, the findings say who differs. No points with fewer than
/// two crews or where nothing or everything failed.
[[nodiscard]] CrewFunnel crew_funnel(const Columns& columns, const std::string& first_day, const std::string& last_day);

}  // namespace wm::audit
