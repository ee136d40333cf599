// Guard bands: what an instrument leaves of a tolerance.
#pragma once

#include <optional>

#include "measure/conformity.hpp"
#include "problem/result.hpp"

namespace wm::measure {

/// A guard band is `factor` times the expanded uncertainty (k = 2), both at least 0.
struct GuardBand {
    double expanded_uncertainty = 0.0;
    double factor = 1.0;
};

struct Acceptance {
    Limits limits;                            ///< tolerance less the guard band on each limit
    std::optional<double> uncertainty_ratio;  ///< (T_U - T_L)/(2U); 4 or more is recommended
    std::optional<double> capability;         ///< C_m = (T_U - T_L)/(4u), u = U/2
    bool nothing_left = false;                ///< the instrument is unfit for this tolerance
};

/// The ratios need both limits and an uncertainty above 0. Problems: no limit, limits in the wrong
/// order, a negative figure, a figure that is no number.
/// Source: JCGM 106:2012, clause 8; ILAC-G8:09/2019 for a band as wide as U.
[[nodiscard]] Result<Acceptance> acceptance_limits(const Limits& tolerance, const GuardBand& band);

/// The symmetrical ruling of that clause. It is not the one of a check (see measure/decision.hpp),
/// which rejects as soon as a reading lies outside the tolerance.
enum class Ruling { Accept, Reject, Undecided };

/// Accept within the acceptance limits, reject more than the guard band outside the tolerance.
/// Where nothing is left to accept, a reading can still be rejected.
[[nodiscard]] Result<Ruling> symmetrical_ruling(double reading, const Limits& tolerance,
                                                const GuardBand& band);

}  // namespace wm::measure
