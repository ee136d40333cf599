// Inhibited propylene glycol and water as a loop carries it, hot as well as cold.
#pragma once

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

struct Mixture {
    units::Density density;
    units::SpecificHeat specific_heat;
    units::Viscosity viscosity;
};

/// Properties of inhibited propylene glycol, 10 % to 60 % by volume, 0 °C to 100 °C: between the
/// rows and columns of a handbook table, straight for density and specific heat, in the logarithm
/// for viscosity. Source: ASHRAE Handbook Fundamentals 2001, chapter 21, tables for aqueous
/// solutions of inhibited propylene glycol. Traps: the percent are of volume; the mixture of one
/// maker differs by some percent in viscosity; cold glycol is ten times as thick as warm water.
[[nodiscard]] Result<Mixture> glycol_mixture(double percent_by_volume, units::Temperature fluid);

}  // namespace wm::plant
