// The collector's curve: share of the sun it turns into heat, and how hot it gets without flow.
#pragma once

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

using LossCoefficient = units::Quantity<0, 1, -3, -1>;           ///< W/(m² K)
using QuadraticLossCoefficient = units::Quantity<0, 1, -3, -2>;  ///< W/(m² K²)

/// Belongs to the area it was published for: gross since ISO 9806:2017, aperture before. Mixing
/// them costs 5 % to 15 %.
struct CollectorCurve {
    double optical;  ///< efficiency without loss
    LossCoefficient loss;
    QuadraticLossCoefficient quadratic_loss;
};

struct CollectorState {
    units::Irradiance sun;          ///< in the plane of the collector
    units::Temperature mean_fluid;  ///< half way between inlet and outlet, not the tank
    units::Temperature air;
};

/// Optical efficiency less both losses over the sun. May be negative, which is an answer.
/// Source: ISO 9806:2013, steady-state quadratic curve.
[[nodiscard]] Result<double> collector_efficiency(const CollectorCurve& curve,
                                                  const CollectorState& state);

/// One less a share of (1/cos θ − 1): what is left of the optical efficiency under slanting sun,
/// 0° to 60°. Source: Souka & Safwat 1966, ASHRAE 93 (from memory).
[[nodiscard]] Result<double> incidence_modifier(double share, units::Angle incidence);

/// Where the curve crosses zero: no flow, full sun. About only: it extrapolates the curve, and a
/// value on the label wins. Refused without any loss, where there is no such temperature.
/// Source: ISO 9806:2017 (standard conditions 1000 W/m² and 30 °C).
[[nodiscard]] Result<units::Temperature> stagnation_temperature(const CollectorCurve& curve,
                                                                units::Irradiance sun,
                                                                units::Temperature air);

}  // namespace wm::plant
