// Platinum resistance thermometers: resistance and temperature, and the tolerance of their classes.
#pragma once

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::measure {

/// Resistance of a platinum thermometer of `at_ice_point` (100 Ω for a Pt100) at a temperature from
/// -200 °C to 850 °C. A problem outside.
/// Source: IEC 60751:2008, the equations of clause 4.
[[nodiscard]] Result<units::Resistance> platinum_resistance(units::Temperature temperature,
                                                            units::Resistance at_ice_point);

/// The inverse, within 1 µK. A problem outside the resistances of that range.
[[nodiscard]] Result<units::Temperature> platinum_temperature(units::Resistance resistance,
                                                              units::Resistance at_ice_point);

enum class PlatinumClass { A, B };

/// Largest permissible error: A 0.15 K + 0.002 |t|, B 0.30 K + 0.005 |t|, t in °C.
/// Source: IEC 60751:2008, table 3, from memory. Leads of a two-wire sensor are not in it: 0.1 Ω of
/// lead reads 0.26 K too high.
[[nodiscard]] units::TemperatureRise platinum_tolerance(PlatinumClass accuracy,
                                                        units::Temperature temperature);

}  // namespace wm::measure
