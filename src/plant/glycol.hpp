// Propylene glycol and water: the frost protection of an indirect loop.
#pragma once

#include <optional>

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

/// First ice of pure propylene glycol in water, straight lines between the rows of a handbook
/// table, 0 % to 50 % by volume. Source: Lange's Handbook of Chemistry, 15th ed., Table 5.13.
/// Traps: an inhibited or ready-mixed product has its own table, which wins. The point is that of
/// first ice: slush protects from bursting lower down, but does not circulate.
[[nodiscard]] Result<units::Temperature> glycol_freezing_point(double percent_by_volume);

/// Mass fraction from volume fraction, both 0 to 1, volumes before mixing at 20 °C.
/// Source: definition; glycol 1036.1 kg/m³ from the CRC Handbook (from memory).
[[nodiscard]] Result<double> glycol_mass_fraction(double volume_fraction);

/// Freezing point alone, from the polynomial below. Mass fraction 0.15 to 0.57.
[[nodiscard]] Result<units::Temperature> glycol_freezing_point_by_mass(double mass_fraction);

struct GlycolProperties {
    units::Temperature freezing_point;
    units::Density density;
    units::SpecificHeat specific_heat;
    std::optional<units::Viscosity> viscosity;  ///< not known above 40 °C
};

/// Polynomials in mass fraction and temperature about 0.307031 and 32.7083 °C. Mass fraction 0.15
/// to 0.57; from the freezing point to 40 °C, density and specific heat acceptable to 100 °C.
/// Source: Melinder 2010, Properties of Secondary Working Fluids for Indirect Systems, IIR. Trap:
/// published sources differ by 1 K in freezing point and 3 % in specific heat; mass and volume
/// percent differ.
[[nodiscard]] Result<GlycolProperties> glycol_properties(double mass_fraction,
                                                         units::Temperature fluid);

}  // namespace wm::plant
