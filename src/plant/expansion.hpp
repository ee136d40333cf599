// Room for the water that heating pushes out: expansion volume and vessels.
#pragma once

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

struct Heating {
    units::Volume cold;  ///< the volume at the FILL temperature
    units::Temperature fill;
    units::Temperature hottest;
};

struct Expansion {
    units::Volume volume;  ///< negative when water shrinks, as from 2 °C to 5 °C
    double percent;        ///< of the cold volume
};

/// Cold volume times density at filling over density at the hottest, less one. Both densities
/// are those of the LIQUID, above 100 °C at its boiling pressure. 0 °C to 200 °C. The growth of
/// the container is neglected (steel would take off 0.16 % of the volume in 45 K).
/// Source: conservation of mass; percentages as in EN 12828:2012 Annex D (from memory).
[[nodiscard]] Result<Expansion> expansion_volume(const Heating& heating);

/// A closed loop with a vessel. Gauge pressures.
struct LoopWithVessel {
    Heating loop;
    units::GaugePressure static_pressure;  ///< 9.81 kPa per metre of water above the vessel
    units::GaugePressure relief;           ///< setting of the safety valve
    units::Volume steam;                   ///< collector and 10 % of the pipe if the loop may
                                           ///< stagnate to steam (common practice), else 0
};

struct LoopVessel {
    units::Volume expansion;
    units::Volume reserve;              ///< 3 L or 0.5 % of the loop
    units::GaugePressure pre_charge;    ///< 0.3 bar over the static pressure
    units::GaugePressure end_pressure;  ///< 10 % or 0.5 bar under the safety valve
    units::Volume least_volume;         ///< of the vessel
};

/// All the volume that must find room, times end pressure against vacuum over the difference of
/// end pressure and pre-charge. Refused when the end pressure does not exceed the pre-charge.
/// Source: EN 12828:2012+A1:2014 Annex D (from memory). Traps: it counts 1 bar for the local air;
/// most thermosiphon jackets have no vessel but an air cushion, which over-filling removes.
[[nodiscard]] Result<LoopVessel> loop_vessel(const LoopWithVessel& loop);

/// Cold side of a preheater store behind a check valve. Gauge pressures.
struct TrappedStore {
    units::Volume expansion;  ///< of ALL that is heated behind the valve, roof and heater
    units::GaugePressure supply;
    units::GaugePressure highest;  ///< allowed, below the relief setting
};

struct ColdVessel {
    double usable_fraction;
    units::Volume least_volume;
};

/// Boyle's law between supply and highest pressure, pre-charge 0.2 bar under the supply (common
/// practice, no source). Refused unless supply is above 0.2 bar and below the highest pressure.
/// The vessel must suit drinking water and does not replace the relief valve.
[[nodiscard]] Result<ColdVessel> cold_vessel(const TrappedStore& store);

}  // namespace wm::plant
