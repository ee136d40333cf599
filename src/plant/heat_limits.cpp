// How hot a set gets, and how much heat comes in.
#include "plant/heat_limits.hpp"

#include <algorithm>

#include "plant/inputs.hpp"
#include "plant/locked_pipe.hpp"

namespace wm::plant {

using units::Temperature;

Result<Temperature> hottest_collector(const CollectorSheet& sheet, const Conventions& by) {
    if (sheet.stagnation) {
        Inputs inputs{"stagnation temperature"};
        inputs.within("label", sheet.stagnation->in_celsius(), 0.0, 400.0, "°C");
        if (inputs.complaint()) return refused(*inputs.complaint());
        return *sheet.stagnation;
    }
    const CollectorCurve curve{sheet.optical.value_or(by.collector_optical),
                               sheet.loss.value_or(by.collector_loss),
                               sheet.quadratic_loss.value_or(by.collector_quadratic_loss)};
    return stagnation_temperature(curve, by.stagnation_sun, by.stagnation_air);
}

Result<Temperature> hottest_store(const StoreLimits& limits) {
    Inputs inputs{"highest temperature of the store"};
    Temperature hottest = limits.collector;
    inputs.within("collector", hottest.in_celsius(), -50.0, 400.0, "°C");
    for (const auto& limit : {limits.relief, limits.boiling}) {
        if (!limit) continue;
        inputs.within("limit of the store", limit->in_celsius(), 20.0, 150.0, "°C");
        hottest = std::min(hottest, *limit);
    }
    if (limits.maker) {
        inputs.within("figure of the maker", limits.maker->in_celsius(), 20.0, 150.0, "°C");
        hottest = *limits.maker;
    }
    if (inputs.complaint()) return refused(*inputs.complaint());
    return hottest;
}

Result<units::Power> heat_that_can_come_in(const HeatIn& heat, const Conventions& by) {
    const double optical = heat.optical.value_or(by.collector_optical);
    Inputs inputs{"heat that can come in"};
    inputs.positive("collector area", heat.collector.si(), "m²")
        .within("optical efficiency", optical, 0.01, 1.0, "")
        .not_negative("power of the heater", heat.heater.si(), "W")
        .within("brightest sun", by.sun_most.si(), 1.0, 2000.0, "W/m²");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return optical * by.sun_most * heat.collector + heat.heater;
}

Result<units::PressureDifference> full_store_rise(Temperature from, Temperature to) {
    constexpr double most_change = 3.0;
    Inputs inputs{"pressure of a full store"};
    inputs.within("water at the start", from.in_celsius(), 1.0, 90.0, "°C")
        .within("change of the water", (to - from).si(), -most_change, most_change, "K");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const TubeMaterial steel{units::Expansivity::from_si(12.0e-6), units::pascals(200e9), 0.3};
    // High enough that no cooling allowed here ends in steam.
    const ShutPipe store{from, units::AbsolutePressure::kilopascals(2000.0),
                         Tube{units::metres(0.45), units::millimetres(2.0)}, 0.0, steel};
    const auto then = pressure_after(store, to);
    if (!then) return tl::unexpected(then.error());
    return *then - store.pressure;
}

}  // namespace wm::plant
