// The energy that waits in a test under pressure: why an air test needs an exclusion zone and a
// water test does not.
#pragma once

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

struct GasEnergy {
    units::Energy isentropic;  ///< what an expansion to the air sets free
    units::Energy upper;       ///< heating at constant volume, the larger figure
    units::Mass tnt;           ///< of the isentropic energy, 4.6 MJ/kg
};

/// Up to 10 MPa. Sources: ideal-gas thermodynamics with 1.4, as in ASME PCC-2 Article 501 (from
/// memory, which takes 4.27 MJ per kg of TNT); upper form Brode 1959 (from memory).
/// Trap: say which form. 10 L at 600 kPa hold 7.4 kJ, 75 kg dropped from 10 m.
[[nodiscard]] Result<GasEnergy> gas_energy(
    units::Volume volume, units::GaugePressure pressure,
    units::AbsolutePressure air = units::AbsolutePressure::pascals(101325.0));

struct WaterTest {
    units::Volume volume;
    units::GaugePressure pressure;
    units::Compressibility water;
    units::Compressibility tube;
};

/// Half the volume times the square of the pressure times both compressibilities. Up to 2 MPa,
/// full of water. Source: linear elasticity. Trap: 1 % of air in 10 L at 600 kPa adds 74 J.
[[nodiscard]] Result<units::Energy> water_energy(const WaterTest& test);

}  // namespace wm::plant
