// What a loop does under a given sun: the flow that carries just what the collector gains.
#pragma once

#include <optional>

#include "plant/circulation.hpp"
#include "plant/collector.hpp"
#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

/// A loop filled with water, or with antifreeze where its strength is given.
struct LoopInSun {
    units::Temperature cold;  ///< of the fluid that enters the collector, 0 °C to 100 °C; antifreeze to 90 °C
    units::Length height;     ///< between the thermal centres of collector and store
    PipeRun pipe;
    FlowResistance collector_resistance;
    units::Area collector;  ///< on the basis of the curve
    CollectorCurve curve;
    units::Irradiance sun;
    units::Temperature air;
    std::optional<double> glycol_percent = std::nullopt;  ///< by volume, 10 to 60
};

struct LoopState {
    LoopFlow flow;
    units::TemperatureRise rise;  ///< hot leg over cold leg
};

/// Thermosiphon flow and collector curve at once, the mean fluid half way between the legs; the rise
/// is found by halving 0.01 K to 75 K, the hot leg below 110 °C (antifreeze: 100 °C). Refused where the sun gives no gain or nothing circulates.
/// Source: Close 1962, Solar Energy 6:33-40 (from memory), with the ISO 9806 curve.
/// Traps: steady state only, reached some twenty minutes after the cover is off; a jacket around the
/// store keeps the fluid some kelvins over the water.
[[nodiscard]] Result<LoopState> loop_in_sun(const LoopInSun& loop);

}  // namespace wm::plant
