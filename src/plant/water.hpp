// Properties of liquid water: where fill mass, expansion, heat and boiling come from.
#pragma once

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

struct WaterProperties {
    units::Density density;
    units::SpecificHeat specific_heat;       ///< at constant pressure
    units::Expansivity expansivity;          ///< of volume; negative below about 4 °C
    units::Compressibility compressibility;  ///< isothermal
};

/// A dimensionless sum of 34 powers of pressure and temperature and its derivatives give
/// volume, heat and both coefficients. 0 °C to 350 °C and from the boiling pressure to 100 MPa;
/// below the boiling pressure there is steam, which is refused.
/// Source: IAPWS R7-97(2012), region 1, Tables 2 and 5.
/// Traps: the pressure is absolute. The other formulation, IAPWS-95, is 15 ppm lower at 60 °C,
/// which moves an expansion by 0.1 %. The expansivity passes zero near 4 °C: do not divide by it.
[[nodiscard]] Result<WaterProperties> water_properties(units::Temperature water,
                                                       units::AbsolutePressure pressure);

/// Water kept liquid: at 0.1 MPa, and above 100 °C at its boiling pressure. 0 °C to 350 °C.
[[nodiscard]] Result<WaterProperties> liquid_water(units::Temperature water);

/// Pressure at which water of this temperature boils, from a quadratic in its fourth root.
/// 0 °C to 373.946 °C. Source: IAPWS R7-97(2012), region 4, Tables 34 and 35.
/// Trap: absolute. On a roof add the air pressure of the place, not that of sea level, to a gauge
/// reading before comparing.
[[nodiscard]] Result<units::AbsolutePressure> boiling_pressure(units::Temperature water);

/// The same curve solved for the temperature. 611.213 Pa to 22.064 MPa.
[[nodiscard]] Result<units::Temperature> boiling_temperature(units::AbsolutePressure pressure);

/// Four powers of T/300 K, at 0.1 MPa (up to 2 MPa less than 1 % off). −20 °C to 110 °C.
/// Source: IAPWS SR6-08(2011). Trap: it halves from 20 °C to 60 °C, so take the temperature of
/// each leg and not a mean of the loop.
[[nodiscard]] Result<units::Viscosity> water_viscosity(units::Temperature water);

}  // namespace wm::plant
