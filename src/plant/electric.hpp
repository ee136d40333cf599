// Checks of the electric heater downstream and its supply. Live work is for the licensed person;
// local wiring rules decide.
#pragma once

#include <optional>

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

struct ElementPlate {
    units::Power power;
    units::Voltage voltage;
};

struct Element {
    units::Resistance resistance;
    units::Power power;  ///< at the measured voltage
    units::Current current;
};

/// Ohm's law with the resistance of the plate. Source: Ohm's law. Traps: isolate and take both
/// ends off; leads of 0.2 Ω matter; cold it is a few percent lower.
[[nodiscard]] Result<Element> element_at(const ElementPlate& plate, units::Voltage measured);

struct ElementFinding {
    units::Power power;  ///< at the plate's voltage
    bool is_within;      ///< 90 % to 105 % of the plate
};
/// From a measured resistance. Source: IEC 60335-1 clause 10.1, appliances over 200 W (from
/// memory).
[[nodiscard]] Result<ElementFinding> element_from_resistance(const ElementPlate& plate,
                                                             units::Resistance measured);

using LinearResistance = units::Quantity<1, 1, -3, 0, -2>;  ///< Ω/m

/// Solid (1), stranded (2) or flexible (5) copper of IEC 60228.
enum class ConductorClass { Solid, Stranded, Flexible };

/// Greatest resistance per length, at the conductor's temperature, −50 °C to 250 °C; sections 1.5,
/// 2.5, 4, 6, 10, 16 mm². Source: IEC 60228:2004 Tables 1 to 3; 0.393 % per kelvin over 20 °C.
/// Trap: 70 °C for a loaded PVC cable; 20 °C only for a continuity reading.
[[nodiscard]] Result<LinearResistance> conductor_resistance(units::Area section, ConductorClass of,
                                                            units::Temperature conductor);

struct Supply {
    LinearResistance resistance;
    units::Length one_way;  ///< the return doubles it
    units::Current current;
    units::Voltage nominal;
};

struct VoltageDrop {
    units::Voltage drop;
    double percent;
};
/// Single phase, a heater. 5 % is the usual limit. Source: IEC 60364-5-52:2009 Table G.52.1 (from
/// memory).
[[nodiscard]] Result<VoltageDrop> voltage_drop(const Supply& supply);

enum class Circuit { Mains, ExtraLow };

struct InsulationTest {
    units::Voltage test;
    units::Resistance least;
};
/// Test voltage and least resistance: extra-low 250 V and 0.5 MΩ, to 500 V 500 V and 1 MΩ, above
/// 1000 V and 1 MΩ. Above 0 to 1000 V. Source: IEC 60364-6:2016 Table 6.1 (from memory).
/// Traps: disconnect electronics; with surge devices test at 250 V, still 1 MΩ; a damp element
/// reads low until dried.
[[nodiscard]] Result<InsulationTest> insulation_test(units::Voltage nominal, Circuit circuit);

enum class BreakerType { General, Selective };

struct TripLimits {
    units::Time least;  ///< no trip before this
    units::Time most;
};
/// At 1, 2 or 5 times the rated residual current. Source: IEC 61008-1:2010 Table 1 (60 ms from
/// memory). At half the rated current it must not trip at all. Trap: disconnection times of
/// IEC 60364-4-41 (0.4 s TN, 0.2 s TT) hold as well; test both half-waves and keep the longer.
[[nodiscard]] Result<TripLimits> trip_limits(BreakerType type, double multiple);

/// Whether a measured time, or none when it did not trip, passes at 0.5, 1, 2 or 5 times.
[[nodiscard]] Result<bool> is_trip_accepted(BreakerType type, double multiple,
                                            std::optional<units::Time> measured);

enum class BreakerCurve { B, C, D };

struct EarthLoop {
    units::Current tripping;
    units::Resistance most;
    units::Resistance cold_limit;  ///< two thirds, for the warming of conductors
    units::Current fault;          ///< prospective, at the measured impedance
    bool is_met;
};
/// Supply to earth over the current that trips the breaker at once: 5, 10 or 20 times its rating.
/// Source: IEC 60364-4-41:2005 411.4.4, IEC 60364-6 (two thirds, from memory), IEC 60898-1.
/// Traps: some national rules take 0.95 of the voltage; the test may trip the residual-current
/// device.
[[nodiscard]] Result<EarthLoop> earth_loop(units::Voltage to_earth, BreakerCurve curve,
                                           units::Current rating, units::Resistance measured);

/// Earth electrode of a TT supply: 50 V over the rated residual current. IEC 60364-4-41, 411.5.3.
[[nodiscard]] Result<units::Resistance> electrode_limit(units::Current rated_residual);

}  // namespace wm::plant
