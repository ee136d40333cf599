#include <optional>

#include "plant/circulation.hpp"
#include "plant/copper_tube.hpp"
#include "plant/workout_tables.hpp"

namespace wm::plant::tables {

using units::is_given;
using units::millimetres;
using units::number_of;

namespace {

TwoLegs legs(const Arguments& a) {
    return {celsius(a, "t_c"), celsius(a, "t_h"), si<units::Length>(a, "H")};
}

PipeRun pipe(const Arguments& a) {
    PipeRun run{.bore = si<units::Length>(a, "D_i"),
                .length = si<units::Length>(a, "L"),
                .fittings = number_or(a, "K", 0.0)};
    run.roughness = si_or(a, "eps", run.roughness);
    return run;
}

Outputs evaluate_head(const Arguments& a) {
    return thermosiphon_head(legs(a)).map([](units::PressureDifference head) {
        return std::vector<Output>{{"dp", "Pa", head.si()}};
    });
}

Outputs evaluate_factor(const Arguments& a) {
    const double reynolds = number_of(a, "Re");
    const double roughness = number_of(a, "eps_rel");
    const auto factor = friction_factor(reynolds, roughness);
    if (!factor) return tl::unexpected(factor.error());
    constexpr double turbulent = 4000.0;
    if (reynolds < turbulent) return std::vector<Output>{{"f", "", *factor}};
    const auto direct = explicit_friction_factor(reynolds, roughness);
    if (!direct) return tl::unexpected(direct.error());
    return std::vector<Output>{
        {"f", "", *factor}, {"f_colebrook", "", *factor}, {"f_haaland", "", *direct}};
}

Outputs evaluate_friction(const Arguments& a) {
    if (is_given(a, "Re") && is_given(a, "eps_rel")) return evaluate_factor(a);
    if (!is_given(a, "m") || !is_given(a, "t") || !is_given(a, "D_i") || !is_given(a, "L"))
        return no_complete_form("pipe-friction",
                                "m, t, D_i and L; or Re and eps_rel for the factor alone");
    return pipe_friction(pipe(a), si<units::MassFlow>(a, "m"), celsius(a, "t"))
        .map([](const PipeFlow& flow) {
            return std::vector<Output>{{"v", "m/s", flow.speed.si()},
                                       {"Re", "", flow.reynolds},
                                       {"f", "", flow.friction_factor},
                                       {"dp", "Pa", flow.loss.si()}};
        });
}

Outputs evaluate_flow(const Arguments& a) {
    return thermosiphon_flow(
               {legs(a), pipe(a), FlowResistance::from_si(number_or(a, "k_col", 0.0)),
                is_given(a, "phi") ? std::optional{number_of(a, "phi")} : std::nullopt})
        .map([](const LoopFlow& loop) {
            return std::vector<Output>{{"head", "Pa", loop.head.si()},
                                       {"m", "kg/s", loop.flow.si()},
                                       {"Q", "W", loop.heat.si()}};
        });
}

Outputs evaluate_tube(const Arguments& a) {
    return tube_dimensions({millimetres(number_of(a, "Do")), millimetres(number_of(a, "s"))})
        .map([](const TubeDimensions& tube) {
            return std::vector<Output>{{"D_i", "mm", tube.bore.si() * 1e3},
                                       {"V", "L/m", tube.content.si() * 1e3},
                                       {"M", "kg/m", tube.mass.si()}};
        });
}

}  // namespace

std::vector<units::Computation> circulation_computations() {
    const auto cold = needs("t_c", "°C", "the temperature of the cold leg");
    const auto hot = needs("t_h", "°C", "the temperature of the hot leg");
    const auto height = needs("H", "m", "the height of the tank's middle over the collector's");
    const auto fittings = may("K", "", "the sum of the loss factors of fittings; 0 if left out");
    const auto roughness = may("eps", "m", "the roughness; 1.5e-6, drawn copper, if left out");
    return {
        {.name = "thermosiphon-head",
         .title = "Head of natural circulation",
         .on_site = "Is there enough height to drive the loop.",
         .equation = "Gravity times height times the difference of density of two legs.",
         .source = "Hydrostatics; Close 1962, Solar Energy 6:33-40 (from memory)",
         .range = "0 °C to 200 °C; tens of pascals, one trapped bubble stops it.",
         .inputs = {cold, hot, height},
         .outputs = {needs("dp", "Pa", "head")},
         .evaluate = evaluate_head},
        {.name = "pipe-friction",
         .title = "Friction of a pipe",
         .on_site = "Compares the loop's resistance with its head.",
         .equation =
             "Darcy and Weisbach; laminar to Re 2300, Colebrook from 4000, straight between.",
         .source = "Colebrook 1939; Haaland 1983; Moody 1944 for drawn tube",
         .range = "0 °C to 110 °C, flow above zero; Re to 1e8.",
         .inputs = {may("m", "kg/s", "the flow"), may("t", "°C", "the water temperature"),
                    may("D_i", "m", "the bore"), may("L", "m", "the length"), fittings, roughness,
                    may("Re", "", "the Reynolds number, for the factor alone"),
                    may("eps_rel", "", "the roughness over the bore, for the factor alone")},
         .outputs = {needs("v", "m/s", "speed"), needs("Re", "", "Reynolds number"),
                     needs("f", "", "Darcy's factor"), needs("dp", "Pa", "loss of pressure"),
                     needs("f_colebrook", "", "Darcy's factor, turbulent"),
                     needs("f_haaland", "", "the same by the explicit form")},
         .evaluate = evaluate_friction},
        {.name = "thermosiphon-flow",
         .title = "Flow at which natural circulation settles",
         .on_site = "Loop flow and heat to expect from a steady pair of temperatures.",
         .equation = "Head equals friction, half the pipe at each leg's temperature, by halving.",
         .source = "Momentum balance of thermosiphon-head and pipe-friction; antifreeze ASHRAE Handbook "
                   "Fundamentals 2001, chapter 21",
         .range = "The hot leg hotter and the tank above; antifreeze 0 °C to 100 °C.",
         .inputs = {cold, hot, height, needs("D_i", "m", "the bore"),
                    needs("L", "m", "the length of pipe"), fittings, roughness,
                    may("k_col", "Pa s/kg", "the resistance of the collector; 0 if left out"),
                    may("phi", "%",
                        "the share of inhibited propylene glycol by volume, 10 to 60; water if "
                        "left out")},
         .outputs = {needs("head", "Pa", "head"), needs("m", "kg/s", "flow"),
                     needs("Q", "W", "heat")},
         .evaluate = evaluate_flow},
        {.name = "copper-tube",
         .title = "Bore, content and weight of copper tube",
         .on_site = "From the size printed on the tube, which is its outside diameter.",
         .equation = "Outside less two walls; area of the bore; ring of 8940 kg/m³.",
         .source = "EN 1057:2006+A1:2010",
         .range = "A wall that leaves a bore.",
         .inputs = {needs("Do", "mm", "the outside diameter"), needs("s", "mm", "the wall")},
         .outputs = {needs("D_i", "mm", "bore"), needs("V", "L/m", "content"),
                     needs("M", "kg/m", "mass")},
         .evaluate = evaluate_tube},
    };
}

}  // namespace wm::plant::tables
