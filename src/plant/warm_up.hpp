// The temperature-rise test: what the store should reach, and whether the set gains what it should.
#pragma once

#include "plant/collector.hpp"
#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

/// A mixed store under steady sun, no draw-off, electric heating off.
struct SolarStore {
    units::HeatCapacity capacity;  ///< of water, metal, pipe and collector together
    units::Area collector;         ///< on the basis of the curve
    CollectorCurve curve;
    units::Conductance loss;                  ///< of store and pipe
    units::TemperatureRise fluid_over_store;  ///< collector fluid over mixed store: half the loop's
                                              ///< rise, 3 K to 8 K (common practice, no source)
    units::Irradiance sun;
    units::Temperature air;
};

/// Heat balance of store and collector, integrated in steps of 60 s or less. Duration to 48 h.
/// Source: energy balance with the ISO 9806 curve; Duffie & Beckman ch. 8 (from memory).
/// Traps: real roof tanks are warmer at the top, the sensor there leads by 10 K to 20 K early on;
/// without fluid_over_store it is optimistic.
[[nodiscard]] Result<units::Temperature> temperature_after(const SolarStore& store,
                                                           units::Temperature start,
                                                           units::Time duration);

/// Heat capacity of so much water and what else is warmed.
[[nodiscard]] Result<units::HeatCapacity> store_capacity(
    units::Mass water, units::HeatCapacity metal,
    units::SpecificHeat of_water = units::SpecificHeat::from_si(4182.0));

/// Standard uncertainties (k = 1) of a heat balance.
struct BalanceUncertainty {
    units::TemperatureRise temperature;  ///< of each thermometer reading
    units::HeatCapacity capacity;
    units::Conductance loss;
    units::Irradiance sun;
    units::TemperatureRise fluid_over_air;
    double model = 0.05;  ///< of the expected gain; our convention, no source
};

struct Window {
    SolarStore store;
    units::Temperature start;
    units::Temperature end;
    units::Time length;
    BalanceUncertainty uncertainty;
    double least_ratio = 0.80;  ///< our convention, no source
};

enum class BalanceVerdict { Conforms, DoesNotConform, Inconclusive };

struct Balance {
    units::Power measured;
    units::Power expected;
    double ratio;
    double uncertainty;  ///< standard, of the ratio
    BalanceVerdict verdict;
};

/// Measured gain (heating of the store and its loss) against the gain by the curve, at the mean
/// temperature of the window; uncertainty by first-order propagation; one-sided at 95 %. Refused
/// when no gain is expected: a ratio would mean nothing.
/// Source: JCGM 100:2008 5.1.2; JCGM 106:2012 clause 8; ISO 9806. It does not replace ISO 9459.
/// Traps: sun steady within 10 %; a hand-held irradiance meter is usually the largest part.
[[nodiscard]] Result<Balance> heat_balance(const Window& window);

struct ThermometerShare {
    units::TemperatureRise uncertainty;  ///< standard, of one reading
    units::HeatCapacity capacity;
    double share = 0.05;  ///< of the expected gain that the thermometer may take
    units::Power expected;
};

/// How long to wait before the second reading. Source: the first term of heat_balance.
[[nodiscard]] Result<units::Time> shortest_window(const ThermometerShare& share);

}  // namespace wm::plant
