// How hot this set can get, how much heat can come in, and what warmth does to a full store.
#pragma once

#include <optional>

#include "plant/derived.hpp"
#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

/// What the collector's label or sheet says; what is missing comes from the conventions.
struct CollectorSheet {
    std::optional<units::Temperature> stagnation;  ///< counts before all else
    std::optional<double> optical;
    std::optional<LossCoefficient> loss;
    std::optional<QuadraticLossCoefficient> quadratic_loss;
};

/// Without flow in full sun. Source: ISO 9806 standard conditions (from memory); the label wins.
[[nodiscard]] Result<units::Temperature> hottest_collector(const CollectorSheet& sheet,
                                                           const Conventions& by = {});

struct StoreLimits {
    units::Temperature collector;               ///< stagnation
    std::optional<units::Temperature> maker;    ///< a store that limits itself
    std::optional<units::Temperature> relief;   ///< heat setting of its relief
    std::optional<units::Temperature> boiling;  ///< of a vented store, at this altitude
};
/// The maker's figure; else the lowest of collector, relief and boiling that are known. Our
/// convention: a relief that opens on heat holds the store at its setting.
[[nodiscard]] Result<units::Temperature> hottest_store(const StoreLimits& limits);

struct HeatIn {
    units::Area collector;
    std::optional<double> optical;
    units::Power heater;
};
/// What a relief must be able to carry off: the whole sun at its brightest through the glass with
/// no loss, and the heating element. Common practice, no source.
[[nodiscard]] Result<units::Power> heat_that_can_come_in(const HeatIn& heat,
                                                         const Conventions& by = {});

/// Change of pressure in a store shut in full of water and free of air, from one water temperature
/// to another: a steel shell of 450 mm and 2 mm wall, 1.1 bar per kelvin at 20 °C, three times
/// that at 60 °C. Source: as pressure_after; steel figures are handbook values, from memory.
/// Trap: the least air makes it far smaller. 1 °C to 90 °C, changes up to 3 K.
[[nodiscard]] Result<units::PressureDifference> full_store_rise(units::Temperature from,
                                                                units::Temperature to);

}  // namespace wm::plant
