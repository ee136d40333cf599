// Type K thermocouple: voltage and temperature.
#pragma once

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::measure {

/// Voltage of a type K couple with its cold end at 0 °C, from -200 °C to 1372 °C. A problem
/// outside. The reference function reaches to -270 °C, but there a microvolt is already half a
/// kelvin. Source: NIST ITS-90 thermocouple database (Monograph 175), type K; IEC 60584-1:2013.
[[nodiscard]] Result<units::Voltage> couple_voltage(units::Temperature hot_end);

/// Both ends of a couple, for what a voltmeter shows. The two voltages subtract, not the degrees.
struct CoupleEnds {
    units::Temperature hot;
    units::Temperature cold;
};
[[nodiscard]] Result<units::Voltage> couple_voltage(const CoupleEnds& ends);

/// Temperature of the hot end from the measured voltage and the temperature of the cold end.
[[nodiscard]] Result<units::Temperature> couple_temperature(units::Voltage measured,
                                                            units::Temperature cold_end);

}  // namespace wm::measure
