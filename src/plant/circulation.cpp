#include "plant/circulation.hpp"

#include <cmath>
#include <numbers>
#include <optional>

#include "plant/glycol_handbook.hpp"
#include "plant/inputs.hpp"
#include "plant/water.hpp"

namespace wm::plant {

using units::MassFlow;
using units::Temperature;

namespace {

constexpr double gravity = 9.80665;
constexpr double laminar_end = 2300.0;
constexpr double turbulent_start = 4000.0;
constexpr double least_flow = 1e-7;
constexpr double most_flow = 5.0;

double haaland(double reynolds, double roughness) {
    const double inverse = -1.8 * std::log10(std::pow(roughness / 3.7, 1.11) + 6.9 / reynolds);
    return 1.0 / (inverse * inverse);
}

double colebrook(double reynolds, double roughness) {
    double inverse = 1.0 / std::sqrt(haaland(reynolds, roughness));
    for (int i = 0; i < 30; ++i)
        inverse = -2.0 * std::log10(roughness / 3.7 + 2.51 / reynolds * inverse);
    return 1.0 / (inverse * inverse);
}

double darcy(double reynolds, double roughness) {
    if (reynolds <= laminar_end) return 64.0 / reynolds;
    if (reynolds >= turbulent_start) return colebrook(reynolds, roughness);
    const double low = 64.0 / laminar_end;
    const double high = colebrook(turbulent_start, roughness);
    return low + (high - low) * (reynolds - laminar_end) / (turbulent_start - laminar_end);
}

Inputs flow_inputs(double reynolds, double relative_roughness, double least) {
    Inputs inputs{"friction factor"};
    inputs.positive("Reynolds number", reynolds, "")
        .within("Reynolds number", reynolds, least, 1e8, "")
        .within("roughness over bore", relative_roughness, 0.0, 0.05, "");
    return inputs;
}

Inputs pipe_inputs(const PipeRun& pipe) {
    Inputs inputs{"pipe friction"};
    inputs.positive("bore", pipe.bore.si() * 1e3, "mm")
        .not_negative("length", pipe.length.si(), "m")
        .not_negative("sum of the loss factors", pipe.fittings, "")
        .not_negative("roughness", pipe.roughness.si() * 1e3, "mm")
        .holds(pipe.roughness.si() <= 0.05 * pipe.bore.si(),
               "The roughness is more than a twentieth of the bore.",
               "Check both and their units; drawn copper has 0.0015 mm.");
    return inputs;
}

// What fills one leg, as head and friction see it.
struct Leg {
    double density, viscosity;
};

Result<Leg> leg_at(Temperature fluid, std::optional<double> glycol_percent = std::nullopt) {
    if (glycol_percent)
        return glycol_mixture(*glycol_percent, fluid).map([](const Mixture& mixture) {
            return Leg{mixture.density.si(), mixture.viscosity.si()};
        });
    const auto liquid = liquid_water(fluid);
    if (!liquid) return tl::unexpected(liquid.error());
    const auto viscosity = water_viscosity(fluid);
    if (!viscosity) return tl::unexpected(viscosity.error());
    return Leg{liquid->density.si(), viscosity->si()};
}

Result<units::SpecificHeat> specific_heat_at(Temperature fluid, std::optional<double> glycol_percent) {
    if (glycol_percent)
        return glycol_mixture(*glycol_percent, fluid).map([](const Mixture& mixture) { return mixture.specific_heat; });
    return liquid_water(fluid).map([](const auto& water) { return water.specific_heat; });
}

PipeFlow flow_through(const PipeRun& pipe, double kg_per_s, const Leg& leg) {
    const double bore = pipe.bore.si();
    const double speed = kg_per_s / (leg.density * std::numbers::pi * bore * bore / 4.0);
    const double reynolds = leg.density * speed * bore / leg.viscosity;
    const double factor = darcy(reynolds, pipe.roughness.si() / bore);
    const double loss =
        (factor * pipe.length.si() / bore + pipe.fittings) * leg.density * speed * speed / 2.0;
    return {.speed = units::metres_per_second(speed),
            .reynolds = reynolds,
            .friction_factor = factor,
            .loss = units::pascals(loss)};
}

}  // namespace

Result<units::PressureDifference> thermosiphon_head(const TwoLegs& legs) {
    Inputs inputs{"thermosiphon head"};
    inputs.within("cold temperature", legs.cold.in_celsius(), 0.0, 200.0, "°C")
        .within("hot temperature", legs.hot.in_celsius(), 0.0, 200.0, "°C")
        .within("height", legs.height.si(), -50.0, 50.0, "m");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto cold = liquid_water(legs.cold);
    if (!cold) return tl::unexpected(cold.error());
    const auto hot = liquid_water(legs.hot);
    if (!hot) return tl::unexpected(hot.error());
    return units::pascals(gravity * legs.height.si() * (cold->density - hot->density).si());
}

Result<double> friction_factor(double reynolds, double relative_roughness) {
    const auto inputs = flow_inputs(reynolds, relative_roughness, 0.0);
    if (inputs.complaint()) return refused(*inputs.complaint());
    return darcy(reynolds, relative_roughness);
}

Result<double> explicit_friction_factor(double reynolds, double relative_roughness) {
    const auto inputs = flow_inputs(reynolds, relative_roughness, turbulent_start);
    if (inputs.complaint()) return refused(*inputs.complaint());
    return haaland(reynolds, relative_roughness);
}

Result<PipeFlow> pipe_friction(const PipeRun& pipe, MassFlow flow, Temperature water) {
    auto inputs = pipe_inputs(pipe);
    inputs.positive("flow", flow.si(), "kg/s").within("flow", flow.si(), 0.0, 100.0, "kg/s");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return leg_at(water).map([&](const Leg& leg) { return flow_through(pipe, flow.si(), leg); });
}

Result<LoopFlow> thermosiphon_flow(const Loop& loop) {
    auto inputs = pipe_inputs(loop.pipe);
    inputs.not_negative("resistance of the collector", loop.collector.si(), "Pa s/kg");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const auto of_water = thermosiphon_head(loop.legs);  // refuses legs and height that make no sense
    if (!of_water) return tl::unexpected(of_water.error());
    const auto cold = leg_at(loop.legs.cold, loop.glycol_percent);
    if (!cold) return tl::unexpected(cold.error());
    const auto hot = leg_at(loop.legs.hot, loop.glycol_percent);
    if (!hot) return tl::unexpected(hot.error());
    const auto head = loop.glycol_percent
                          ? units::pascals(gravity * loop.legs.height.si() * (cold->density - hot->density))
                          : *of_water;

    PipeRun half = loop.pipe;
    half.length = half.length / 2.0;
    half.fittings /= 2.0;
    const auto loss = [&](double m) {
        return (flow_through(half, m, *cold).loss + flow_through(half, m, *hot).loss).si() +
               loop.collector.si() * m;
    };
    inputs
        .holds(head.si() > loss(least_flow), "Nothing drives this loop.",
               "The tank must stand above the collector and the hot leg must be hotter.")
        .holds(head.si() < loss(most_flow), "The flow is more than 5 kg/s.",
               "Check bore and length of the pipe; no natural circulation is that strong.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    double low = least_flow;
    double high = most_flow;
    for (int i = 0; i < 100; ++i) {
        const double middle = (low + high) / 2.0;
        (loss(middle) < head.si() ? low : high) = middle;
    }
    const auto mean = loop.legs.cold + (loop.legs.hot - loop.legs.cold) / 2.0;
    const auto specific_heat = specific_heat_at(mean, loop.glycol_percent);
    if (!specific_heat) return tl::unexpected(specific_heat.error());
    const auto flow = MassFlow::from_si((low + high) / 2.0);
    return LoopFlow{.head = head,
                    .flow = flow,
                    .heat = flow * *specific_heat * (loop.legs.hot - loop.legs.cold)};
}

}  // namespace wm::plant
