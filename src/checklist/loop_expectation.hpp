// What the loop of this job should do under the sun of now, and how surely that is known.
#pragma once

#include <optional>

#include "checklist/facts.hpp"
#include "measure/uncertainty.hpp"
#include "plant/loop_in_sun.hpp"
#include "plant/warm_up.hpp"

namespace wm::checklist {

/// The loop of a direct set under its sun, beginning as cold as the air. Nothing for an antifreeze
/// loop, whose fluid the equation does not know, or where the way of the pipes is not known.
[[nodiscard]] std::optional<plant::LoopInSun> loop_of(const Facts& facts, const plant::SolarStore& store);

struct LoopExpectation {
    measure::Estimate rise;  ///< hot leg over cold leg, K
    double litres_a_minute;
};

/// First-order propagation of what is known badly: the sun by its share (k = 1), the height, the
/// losses of fittings and the resistance of the collector by shares of common practice, no source.
/// Source: JCGM 100:2008, 5.1.2. Nothing where the loop does not circulate.
[[nodiscard]] std::optional<LoopExpectation> loop_expected(const plant::LoopInSun& loop, double sun_share);

inline constexpr double loop_height_doubt = 0.15;
inline constexpr double loop_fittings_doubt = 0.5;
inline constexpr double loop_collector_doubt = 0.5;

}  // namespace wm::checklist
