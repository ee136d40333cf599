// Whether the set gains what its collector should, from how far the store warmed in a known time.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "checklist/judge.hpp"
#include "checklist/readings.hpp"
#include "plant/warm_up.hpp"

namespace wm::checklist {

/// The set of this job as a mixed store under its collector: capacity, area, curve and loss by the
/// facts, by the conventions where no sheet is at hand. Sun and air are left to the caller.
/// Missing: sys.coll_m2, sys.tank_l.
[[nodiscard]] tl::expected<plant::SolarStore, Missing> solar_store_of(const Context& context);

/// How well the capacity of such a store is known, as a share (k = 1): common practice, no source.
inline constexpr double capacity_doubt = 0.03;

struct HeatGain {
    plant::Balance balance;
    std::string words;                    ///< the verdict in sentences
    std::vector<std::string> derivation;  ///< what it was made with, a line each
};

/// The heat balance of a series with `works_out = ["heat-gain"]`: mean of all channels at the first
/// and at the last time, the extras `sun` and `air`, and the judged rise with its uncertainty.
/// Nothing for any other check, before its readings are all there, or with a sun too weak to warm
/// anything. Source: plant::heat_balance.
[[nodiscard]] tl::expected<std::optional<HeatGain>, Missing> heat_gain_of(
    const Check& check, const Answer& answer, const Judged& rise, const Context& context);

/// A set that surely gains too little does not conform; one of which it cannot be said is
/// inconclusive; a rise that does not conform by itself stays so.
void weigh_gain(Judged& judged, const HeatGain& gain);

}  // namespace wm::checklist
