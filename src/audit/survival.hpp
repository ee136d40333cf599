// How long nonconformities stay open when some are open still.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "problem/result.hpp"

namespace wm::audit {

/// Closed: corrected after that time. StillOpen: not corrected yet, open for that time so far.
enum class Ending { Closed, StillOpen };

struct OpenTime {
    double time = 0.0;  ///< not negative, in any one unit
    Ending ending = Ending::StillOpen;
};

/// At `time` the share still open falls to `open_share`.
struct SurvivalStep {
    double time = 0.0;
    double open_share = 1.0;
    double standard_error = 0.0;  ///< by Greenwood; 0 once nothing is left open
};

struct SurvivalCurve {
    std::vector<SurvivalStep> steps;  ///< one per time at which something was closed
    std::optional<double> median;     ///< none if more than half are open for longer than was seen
};

/// Product-limit curve. Where one is closed and another still open at the same time, the open one
/// counts as at risk. Leaving open ones out would make every crew look fast.
/// Problems: no times, a negative one, one that is no number.
/// Source: Kaplan and Meier 1958; Greenwood 1926.
[[nodiscard]] Result<SurvivalCurve> product_limit(std::span<const OpenTime> times);

}  // namespace wm::audit
