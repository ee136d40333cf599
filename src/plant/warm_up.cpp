#include "plant/warm_up.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "plant/inputs.hpp"

namespace wm::plant {

using units::kelvins;
using units::Temperature;

namespace {

constexpr double one_sided_95 = 1.645;

Inputs store_inputs(std::string_view equation, const SolarStore& store) {
    Inputs inputs{equation};
    inputs.positive("heat capacity", store.capacity.si(), "J/K")
        .positive("collector area", store.collector.si(), "m²")
        .within("optical efficiency", store.curve.optical, 0.0, 1.0, "")
        .within("loss coefficient", store.curve.loss.si(), 0.0, 100.0, "W/(m² K)")
        .within("quadratic loss coefficient", store.curve.quadratic_loss.si(), 0.0, 10.0,
                "W/(m² K²)")
        .not_negative("loss of store and pipe", store.loss.si(), "W/K")
        .within("fluid over store", store.fluid_over_store.si(), -50.0, 100.0, "K")
        .within("sun", store.sun.si(), 0.0, 2000.0, "W/m²")
        .within("air temperature", store.air.in_celsius(), -60.0, 70.0, "°C");
    return inputs;
}

// Gain of the collector in watt at so many kelvin of fluid over air.
double gain_w(const SolarStore& store, double y) {
    const auto& curve = store.curve;
    return store.collector.si() * (curve.optical * store.sun.si() - curve.loss.si() * y -
                                   curve.quadratic_loss.si() * y * y);
}

double warming_k_per_s(const SolarStore& store, double over_air) {
    const double y = over_air + store.fluid_over_store.si();
    return (gain_w(store, y) - store.loss.si() * over_air) / store.capacity.si();
}

double square(double x) {
    return x * x;
}

}  // namespace

Result<Temperature> temperature_after(const SolarStore& store, Temperature start,
                                      units::Time duration) {
    constexpr double longest_step_s = 60.0;
    auto inputs = store_inputs("warming of the store", store);
    inputs.within("start temperature", start.in_celsius(), -20.0, 200.0, "°C")
        .within("duration", duration.si() / 3600.0, 0.0, 48.0, "h");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const int steps = std::max(1, static_cast<int>(std::ceil(duration.si() / longest_step_s)));
    const double h = duration.si() / steps;
    double over_air = (start - store.air).si();
    for (int i = 0; i < steps; ++i) {
        const double k1 = warming_k_per_s(store, over_air);
        const double k2 = warming_k_per_s(store, over_air + h / 2.0 * k1);
        const double k3 = warming_k_per_s(store, over_air + h / 2.0 * k2);
        const double k4 = warming_k_per_s(store, over_air + h * k3);
        over_air += h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
    }
    inputs.finite("end temperature", over_air);
    if (inputs.complaint()) return refused(*inputs.complaint());
    return store.air + kelvins(over_air);
}

Result<units::HeatCapacity> store_capacity(units::Mass water, units::HeatCapacity metal,
                                           units::SpecificHeat of_water) {
    Inputs inputs{"heat capacity of the store"};
    inputs.positive("mass of water", water.si(), "kg")
        .not_negative("heat capacity of the metal", metal.si(), "J/K")
        .within("specific heat of water", of_water.si(), 3000.0, 5000.0, "J/(kg K)");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return water * of_water + metal;
}

Result<Balance> heat_balance(const Window& window) {
    const auto& store = window.store;
    const auto& u = window.uncertainty;
    auto inputs = store_inputs("heat balance", store);
    inputs.within("start temperature", window.start.in_celsius(), -20.0, 200.0, "°C")
        .within("end temperature", window.end.in_celsius(), -20.0, 200.0, "°C")
        .positive("length of the window", window.length.si(), "s")
        .not_negative("uncertainty of the thermometer", u.temperature.si(), "K")
        .not_negative("uncertainty of the capacity", u.capacity.si(), "J/K")
        .not_negative("uncertainty of the loss", u.loss.si(), "W/K")
        .not_negative("uncertainty of the sun", u.sun.si(), "W/m²")
        .not_negative("uncertainty of fluid over air", u.fluid_over_air.si(), "K")
        .within("uncertainty of the model", u.model, 0.0, 1.0, "")
        .within("least ratio", window.least_ratio, 0.0, 2.0, "");
    if (inputs.complaint()) return refused(*inputs.complaint());

    const double c = store.capacity.si();
    const double dt = window.length.si();
    const double rise = (window.end - window.start).si();
    const double mean_over_air = ((window.start - store.air) + (window.end - store.air)).si() / 2.0;
    const double y = mean_over_air + store.fluid_over_store.si();
    const double measured = c * rise / dt + store.loss.si() * mean_over_air;
    const double expected = gain_w(store, y);
    inputs.holds(expected > 0.0, "No gain is expected in this window.",
                 "Take the readings with more sun or a cooler store.");
    if (inputs.complaint()) return refused(*inputs.complaint());

    const double a = store.collector.si();
    const double slope = store.curve.loss.si() + 2.0 * store.curve.quadratic_loss.si() * y;
    const double u_measured =
        std::sqrt(2.0 * square(c / dt * u.temperature.si()) + square(rise / dt * u.capacity.si()) +
                  square(mean_over_air * u.loss.si()));
    const double u_expected =
        std::sqrt(square(a * store.curve.optical * u.sun.si()) +
                  square(a * slope * u.fluid_over_air.si()) + square(expected * u.model));
    const double ratio = measured / expected;
    // As in the source, but with the measured gain multiplied out: a store that gained nothing has a ratio of 0 and an
    // uncertainty like any other.
    const double u_ratio = std::hypot(u_measured, ratio * u_expected) / expected;
    auto verdict = BalanceVerdict::Inconclusive;
    if (ratio - one_sided_95 * u_ratio >= window.least_ratio) verdict = BalanceVerdict::Conforms;
    if (ratio + one_sided_95 * u_ratio < window.least_ratio)
        verdict = BalanceVerdict::DoesNotConform;
    return Balance{.measured = units::watts(measured),
                   .expected = units::watts(expected),
                   .ratio = ratio,
                   .uncertainty = u_ratio,
                   .verdict = verdict};
}

Result<units::Time> shortest_window(const ThermometerShare& share) {
    Inputs inputs{"shortest window"};
    inputs.not_negative("uncertainty of the thermometer", share.uncertainty.si(), "K")
        .positive("heat capacity", share.capacity.si(), "J/K")
        .positive("share of the gain", share.share, "")
        .positive("expected gain", share.expected.si(), "W");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return units::seconds(std::numbers::sqrt2 * share.uncertainty.si() * share.capacity.si() /
                          (share.share * share.expected.si()));
}

}  // namespace wm::plant
