// Pressure in a pipe that is shut in full of water: what the sun does to a pressure test.
#pragma once

#include "plant/copper_tube.hpp"
#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

using PressurePerKelvin = units::Quantity<-1, 1, -2, -1>;

/// Handbook values for copper, from memory. Others within their scatter move the result by 0.7 %.
struct TubeMaterial {
    units::Expansivity linear_expansion = units::Expansivity::from_si(17.0e-6);
    units::PressureDifference elasticity = units::pascals(120e9);
    double poisson = 0.33;
};

struct ShutPipe {
    units::Temperature water;
    units::AbsolutePressure pressure;
    Tube tube;
    double gas_fraction = 0.0;  ///< of the volume, at this pressure; 0 is full of water
    TubeMaterial material{};
};

/// Bore over (elasticity times wall), times 5/4 less Poisson's ratio: a thin tube closed at both
/// ends and free to lengthen. Source: pressure-vessel theory; Wylie & Streeter (from memory).
[[nodiscard]] Result<units::Compressibility> tube_compliance(const Tube& tube,
                                                             const TubeMaterial& material = {});

/// Expansion of water and gas less that of the tube, over compressibility of water, gas and tube.
/// Water as water_properties; gas fraction 0 to below 1. Negative below about 7 °C in copper.
/// Source: IAPWS R7-97 for water, the rest as tube_compliance.
/// Trap: half a percent of air cuts it seven-fold: bleed first, and read the wall temperature at
/// start and end.
[[nodiscard]] Result<PressurePerKelvin> pressure_per_kelvin(const ShutPipe& pipe);

/// The pressure after the water has changed to another temperature, in steps of 1 K or less, the
/// gas keeping its amount. Refused where the pressure would fall to that of steam.
[[nodiscard]] Result<units::AbsolutePressure> pressure_after(const ShutPipe& pipe,
                                                             units::Temperature then);

}  // namespace wm::plant
