// What the gauge of a sealed air test should read after the weather has changed.
#pragma once

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

struct SealedGas {
    units::GaugePressure start;
    units::Temperature at_start;  ///< of the GAS: wait, or measure on the tube
    units::Temperature at_end;
    units::AbsolutePressure air_at_start;  ///< the barometer
    units::AbsolutePressure air_at_end;
};

/// Pressure against vacuum grows with temperature in kelvin; then the barometer comes off again.
/// Dry gas, constant volume, 0 °C to 60 °C, up to 1 MPa against vacuum; the ideal gas holds within
/// 0.5 % there. Source: ideal gas law. Traps: never scale a gauge pressure; 1 kPa of barometer
/// moves the gauge by 1 kPa; sun on a dark pipe can be 20 K.
[[nodiscard]] Result<units::GaugePressure> expected_gas_pressure(const SealedGas& gas);

/// Expected less read at the end: the loss that weather does not explain. The reading lies between
/// vacuum and 1 MPa against it.
[[nodiscard]] Result<units::PressureDifference> unexplained_loss(const SealedGas& gas,
                                                                 units::GaugePressure read_at_end);

}  // namespace wm::plant
