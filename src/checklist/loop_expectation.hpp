// What the loop of this job should do under the sun of now, and how surely that is known.
#pragma once

#include <optional>

#include "checklist/facts.hpp"
#include "checklist/judge.hpp"
#include "measure/uncertainty.hpp"
#include "plant/loop_in_sun.hpp"
#include "plant/warm_up.hpp"

namespace wm::checklist {

/// Strength of the antifreeze in this loop, percent by volume: by the freezing point measured at
/// `loop-freeze-point`, else the strength that the place asks for. Nothing for a direct set, or
/// where neither is known. Source: the table of plant::glycol_freezing_point, read backwards.
[[nodiscard]] std::optional<double> antifreeze_percent(const Context& context);

/// The loop of this set under its sun, beginning as cold as the air; antifreeze enters the collector
/// `jacket_step` warmer. Nothing where the way of the pipes is not known, or for an antifreeze set
/// the strength of its fluid.
[[nodiscard]] std::optional<plant::LoopInSun> loop_of(const Context& context, const plant::SolarStore& store);

struct LoopExpectation {
    measure::Estimate rise;  ///< hot leg over cold leg, K
    double litres_a_minute;
};

/// First-order propagation of what is known badly: the sun by its share (k = 1), the height, the
/// losses of fittings and the resistance of the collector by shares, and for antifreeze its step over
/// the store, all of common practice, no source.
/// Source: JCGM 100:2008, 5.1.2. Nothing where the loop does not circulate.
[[nodiscard]] std::optional<LoopExpectation> loop_expected(const plant::LoopInSun& loop, double sun_share);

inline constexpr double loop_height_doubt = 0.15;
inline constexpr double loop_fittings_doubt = 0.5;
inline constexpr double loop_collector_doubt = 0.5;
/// The jacket hands its heat over to the store by some kelvins: common practice, no source.
inline constexpr units::TemperatureRise jacket_step = units::kelvins(6.0);
inline constexpr units::TemperatureRise jacket_step_doubt = units::kelvins(3.0);

}  // namespace wm::checklist
