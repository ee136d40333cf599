// Heat that leaves through insulation: of a pipe per metre, of a store over a night.
#pragma once

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

using Conductivity = units::Quantity<1, 1, -3, -1>;        ///< W/(m K)
using SurfaceCoefficient = units::Quantity<0, 1, -3, -1>;  ///< W/(m² K)
using LinearLoss = units::Quantity<1, 1, -3>;              ///< W/m

struct InsulatedPipe {
    units::Length outside;     ///< of the tube
    units::Length insulation;  ///< thickness, 0 for a bare pipe
    Conductivity conductivity;
    SurfaceCoefficient surface;  ///< 10 indoors; outdoors from the wind, see outdoor_surface
    units::Temperature fluid;
    units::Temperature air;
};

struct PipeLoss {
    LinearLoss loss;
    units::Temperature jacket;  ///< of the outer surface
};

/// Difference of temperature over the resistance of the insulation and of its surface, per metre.
/// Film inside and copper neglected. Source: ISO 12241:2008 clause 4. Traps: wet or crushed foam
/// conducts twice as much, and 0.4 % more per kelvin of mean temperature.
[[nodiscard]] Result<PipeLoss> pipe_heat_loss(const InsulatedPipe& pipe);

/// 5.7 + 3.8 v W/(m² K), wind to 5 m/s. Source: McAdams as in Duffie & Beckman (from memory).
[[nodiscard]] Result<SurfaceCoefficient> outdoor_surface(units::Speed wind);

/// Loss per kelvin from the energy a store loses in 24 h at 45 K over the air.
/// Source: EN 12897:2016.
[[nodiscard]] Result<units::Conductance> standing_loss(units::Power over_24_hours);

struct Cooling {
    units::Conductance loss;
    units::HeatCapacity capacity;
    units::Temperature start;
    units::Temperature air;  ///< mean over the time; outdoors it is not constant
};

/// Exponential approach to the air. Trap: reverse circulation at night looks like bad insulation:
/// feel for a hot collector header.
[[nodiscard]] Result<units::Temperature> cooled_temperature(const Cooling& cooling,
                                                            units::Time time);

/// The same curve solved for the loss. Both temperatures on one side of the air, the second
/// nearer to it.
struct CoolDown {
    units::HeatCapacity capacity;
    units::Temperature start;
    units::Temperature end;
    units::Temperature air;
    units::Time time;
};
[[nodiscard]] Result<units::Conductance> loss_from_cooling(const CoolDown& cooling);

}  // namespace wm::plant
