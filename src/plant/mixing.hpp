// Mixed water and what hot water does to skin.
#pragma once

#include <optional>

#include "problem/result.hpp"
#include "units/quantity.hpp"

namespace wm::plant {

struct Mixture {
    units::Temperature mixed;
    units::Temperature hot;
    units::Temperature cold;
};

/// Share of hot water in the mixture, 0 to 1. Hot above cold and the mixture between them, or
/// refused. Source: enthalpy balance with constant specific heat, within 0.5 %.
/// Trap: mixing valves need 10 K to 15 K between hot and set, and close when the cold fails.
[[nodiscard]] Result<double> hot_share(const Mixture& mixture);

/// What comes out of a given share.
[[nodiscard]] Result<units::Temperature> mixed_temperature(units::Temperature hot,
                                                           units::Temperature cold,
                                                           double hot_share);

/// Litres at the mixed temperature that a store gives. The mixture above the cold water.
[[nodiscard]] Result<units::Volume> mixed_volume(units::Volume store, const Mixture& mixture);

struct ScaldTimes {
    units::Time second_degree;
    units::Time full_thickness;
};

/// Times of ADULT skin from a published table, straight in the logarithm between its rows. None
/// below 45 °C; above 60 °C the times of 60 °C, which are then an upper bound. 0 °C to 100 °C.
/// Source: Moritz & Henriques 1947, Am. J. Pathol. 23:695-720, from a secondary source.
/// Hazard: children and old people burn in a fraction of the time. Show a caution with it, never
/// "safe for so many seconds". It is no limit: the local code decides.
[[nodiscard]] Result<std::optional<ScaldTimes>> scald_times(units::Temperature water);

/// Time to irreversible damage by a rate equation of the skin's basal layer, 44 °C to 55 °C.
/// Source: Henriques 1947, Arch. Pathol. 43:489 (from memory). Hazard: NOT conservative below
/// 55 °C, 11 h instead of 2 h to 3 h at 45 °C. Never show it alone: the shorter of this and the
/// table decides.
[[nodiscard]] Result<units::Time> burn_time(units::Temperature basal_layer);

}  // namespace wm::plant
