// From the slope of a pressure to the litres that leave.
#pragma once

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

using PressureRate = units::Quantity<-1, 1, -3>;  ///< Pa/s; a drop is negative

struct Drop {
    units::Volume volume;  ///< enclosed
    PressureRate slope;    ///< corrected for temperature first
};

/// Volume times yielding times drop, m³/s. The yielding is the compressibility of water and that
/// of the tube, with trapped gas its fraction over its pressure too. Negative for a rising
/// pressure. Source: definition of compressibility.
[[nodiscard]] Result<units::VolumeFlow> liquid_leak(const Drop& drop,
                                                    units::Compressibility yielding);

using Throughput = units::Power;  ///< Pa m³/s

struct GasLeak {
    Throughput throughput;
    units::VolumeFlow normal_flow;  ///< at 101.325 kPa
};
/// Source: throughput after EN 1779 and ISO 20484 (from memory). Trap: the same slope is a far
/// smaller leak of water than of air: 1 kPa/min in 10 L is 0.006 mL/min against 99 mL/min.
[[nodiscard]] Result<GasLeak> gas_leak(const Drop& drop);

}  // namespace wm::plant
