// How long water must stay hot to kill legionella.
#pragma once

#include <span>

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

/// Time in which a tenth survives, straight in its logarithm between published values, 45 °C to
/// 66 °C. Source: Sanden, Fields, Barbaree & Feeley 1989, Current Microbiology 18:61-65 (values of
/// the abstract). Hazard: a minimum. Biofilm and amoebae protect (others found 2 min at 60 °C), and
/// a preheat store spends hours between 20 °C and 50 °C, where it grows: the heater downstream
/// must take every drop to 60 °C.
[[nodiscard]] Result<units::Time> decimal_reduction_time(units::Temperature water);

/// To hold for so many decades, above 0 to 20.
[[nodiscard]] Result<units::Time> hold_time(units::Temperature water, double decades);

struct HeldStep {
    units::Temperature water;
    units::Time time;
};
/// Decades reached by a changing temperature: nothing counts below 50 °C (our convention), and
/// above 66 °C the published value of 66 °C.
[[nodiscard]] Result<double> decades_reached(std::span<const HeldStep> steps);

}  // namespace wm::plant
