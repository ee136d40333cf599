// What a loop does under a given sun: the flow that carries just what the collector gains.
#pragma once

#include "plant/circulation.hpp"
#include "plant/collector.hpp"
#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

/// A direct loop, filled with water.
struct LoopInSun {
    units::Temperature cold;  ///< of the water that enters the collector, 0 °C to 100 °C
    units::Length height;     ///< between the thermal centres of collector and store
    PipeRun pipe;
    FlowResistance collector_resistance;
    units::Area collector;  ///< on the basis of the curve
    CollectorCurve curve;
    units::Irradiance sun;
    units::Temperature air;
};

struct LoopState {
    LoopFlow flow;
    units::TemperatureRise rise;  ///< hot leg over cold leg
};

/// Thermosiphon flow and collector curve at once, the mean fluid half way between the legs; the rise
/// is found by halving 0.01 K to 75 K, the hot leg below 110 °C. Refused where the sun gives no gain or nothing circulates.
/// Source: Close 1962, Solar Energy 6:33-40 (from memory), with the ISO 9806 curve.
/// Traps: steady state only, reached some twenty minutes after the cover is off; water, not glycol.
[[nodiscard]] Result<LoopState> loop_in_sun(const LoopInSun& loop);

}  // namespace wm::plant
