#include "plant/loop_in_sun.hpp"

#include <algorithm>

#include "plant/inputs.hpp"

namespace wm::plant {

namespace {

constexpr double least_rise_k = 0.01;
constexpr double most_rise_k = 75.0;
// Where the viscosity of water ends, and the table of antifreeze.
constexpr double hottest_water_c = 110.0;
constexpr double hottest_mixture_c = 100.0;

double gain_w(const LoopInSun& loop, double rise_k) {
    const double over_air = (loop.cold - loop.air).si() + rise_k / 2.0;
    return loop.collector.si() * (loop.curve.optical * loop.sun.si() - loop.curve.loss.si() * over_air -
                                  loop.curve.quadratic_loss.si() * over_air * over_air);
}

Result<LoopFlow> flow_at(const LoopInSun& loop, double rise_k) {
    return thermosiphon_flow({.legs = {loop.cold, loop.cold + units::kelvins(rise_k), loop.height},
                              .pipe = loop.pipe,
                              .collector = loop.collector_resistance,
                              .glycol_percent = loop.glycol_percent});
}

}  // namespace

Result<LoopState> loop_in_sun(const LoopInSun& loop) {
    const double hottest_c = loop.glycol_percent ? hottest_mixture_c : hottest_water_c;
    Inputs inputs{"loop under the sun"};
    inputs.within("cold temperature", loop.cold.in_celsius(), 0.0, hottest_c - 10.0, "°C")
        .within("air temperature", loop.air.in_celsius(), -60.0, 60.0, "°C")
        .positive("collector area", loop.collector.si(), "m²")
        .within("optical efficiency", loop.curve.optical, 0.0, 1.0, "")
        .not_negative("loss coefficient", loop.curve.loss.si(), "W/(m² K)")
        .not_negative("quadratic loss coefficient", loop.curve.quadratic_loss.si(), "W/(m² K²)")
        .within("sun", loop.sun.si(), 0.0, 1500.0, "W/m²")
        .holds(gain_w(loop, 0.0) > 0.0, "The collector gains nothing under this sun.",
               "Wait for more sun, or for cooler water.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    double low = least_rise_k;
    double high = std::min(most_rise_k, hottest_c - loop.cold.in_celsius());
    for (int i = 0; i < 60; ++i) {
        const double middle = (low + high) / 2.0;
        const auto flow = flow_at(loop, middle);
        if (!flow) return tl::unexpected(flow.error());
        (flow->heat.si() < gain_w(loop, middle) ? low : high) = middle;
    }
    const double rise = (low + high) / 2.0;
    const auto flow = flow_at(loop, rise);
    if (!flow) return tl::unexpected(flow.error());
    return LoopState{*flow, units::kelvins(rise)};
}

}  // namespace wm::plant
