#include "plant/expansion.hpp"

#include <algorithm>

#include "plant/inputs.hpp"
#include "plant/water.hpp"

namespace wm::plant {

using units::GaugePressure;
using units::litres;

namespace {
constexpr double pascals_per_bar = 1e5;
double in_bar(GaugePressure pressure) {
    return pressure.in_pascals() / pascals_per_bar;
}
GaugePressure bar(double value) {
    return GaugePressure::pascals(value * pascals_per_bar);
}
}  // namespace

Result<Expansion> expansion_volume(const Heating& heating) {
    Inputs inputs{"expansion volume"};
    inputs.positive("cold volume", heating.cold.si() * 1e3, "L")
        .within("fill temperature", heating.fill.in_celsius(), 0.0, 200.0, "°C")
        .within("hottest temperature", heating.hottest.in_celsius(), 0.0, 200.0, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto cold = liquid_water(heating.fill);
    if (!cold) return tl::unexpected(cold.error());
    const auto hot = liquid_water(heating.hottest);
    if (!hot) return tl::unexpected(hot.error());
    const double share = units::ratio(cold->density, hot->density) - 1.0;
    return Expansion{.volume = heating.cold * share, .percent = 100.0 * share};
}

Result<LoopVessel> loop_vessel(const LoopWithVessel& loop) {
    const auto expansion = expansion_volume(loop.loop);
    if (!expansion) return tl::unexpected(expansion.error());
    const double relief = in_bar(loop.relief);
    const double pre_charge = in_bar(loop.static_pressure) + 0.3;
    const double end = std::min(0.9 * relief, relief - 0.5);
    Inputs inputs{"expansion vessel of the loop"};
    inputs.not_negative("static pressure", in_bar(loop.static_pressure), "bar")
        .positive("setting of the safety valve", relief, "bar")
        .not_negative("steam volume", loop.steam.si() * 1e3, "L")
        .holds(expansion->volume.si() >= 0.0, "The loop shrinks between these temperatures.",
               "Give the fill temperature first and the hottest second.")
        .holds(end > pre_charge, "The safety valve opens before the vessel has taken anything in.",
               "Put the vessel higher, or fit a safety valve with a higher setting.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto reserve = std::max(litres(3.0), loop.loop.cold * 0.005);
    const auto needed = expansion->volume + reserve + loop.steam;
    return LoopVessel{.expansion = expansion->volume,
                      .reserve = reserve,
                      .pre_charge = bar(pre_charge),
                      .end_pressure = bar(end),
                      .least_volume = needed * ((end + 1.0) / (end - pre_charge))};
}

Result<ColdVessel> cold_vessel(const TrappedStore& store) {
    const double supply = in_bar(store.supply);
    const double highest = in_bar(store.highest);
    const double pre_charge = supply - 0.2;
    Inputs inputs{"expansion vessel on the cold side"};
    inputs.positive("expansion", store.expansion.si() * 1e3, "L")
        .within("supply pressure", supply, 0.2, 20.0, "bar")
        .within("highest pressure", highest, 0.0, 20.0, "bar")
        .holds(highest > supply, "The highest pressure is not above the supply pressure.",
               "Reduce the supply pressure, or check both readings.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double usable =
        (pre_charge + 1.0) / (supply + 1.0) - (pre_charge + 1.0) / (highest + 1.0);
    return ColdVessel{.usable_fraction = usable, .least_volume = store.expansion / usable};
}

}  // namespace wm::plant
