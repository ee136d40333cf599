#include "plant/collector.hpp"
#include "plant/inputs.hpp"
#include "plant/insulation.hpp"
#include "plant/warm_up.hpp"
#include "plant/workout_tables.hpp"

namespace wm::plant::tables {

using units::is_given;
using units::kelvins;
using units::number_of;
using units::Symbol;

namespace {

CollectorCurve curve(const Arguments& a) {
    return {number_of(a, "eta0"), si<LossCoefficient>(a, "a1"),
            si<QuadraticLossCoefficient>(a, "a2")};
}

Outputs evaluate_efficiency(const Arguments& a) {
    auto of = curve(a);
    if (is_given(a, "theta") != is_given(a, "b0"))
        return no_complete_form("collector-efficiency", "theta and b0 together, or neither");
    if (is_given(a, "theta")) {
        const auto modifier = incidence_modifier(number_of(a, "b0"), degrees(a, "theta"));
        if (!modifier) return tl::unexpected(modifier.error());
        of.optical *= *modifier;
    }
    const auto sun = si<units::Irradiance>(a, "G");
    const auto eta = collector_efficiency(of, {sun, celsius(a, "tm"), celsius(a, "ta")});
    if (!eta) return tl::unexpected(eta.error());
    std::vector<Output> all{{"eta", "", *eta}};
    if (is_given(a, "A")) {
        const double area = number_of(a, "A");
        if (auto wrong = Inputs{"collector-efficiency"}.positive("area", area, "m²").complaint())
            return refused(*wrong);
        all.push_back({"Q", "W", area * sun.si() * *eta});
    }
    return all;
}

Outputs evaluate_stagnation(const Arguments& a) {
    return stagnation_temperature(curve(a), si<units::Irradiance>(a, "G"), celsius(a, "ta"))
        .map([](units::Temperature t) {
            return std::vector<Output>{{"t_stg", "°C", t.in_celsius()}};
        });
}

SolarStore solar_store(const Arguments& a, units::HeatCapacity capacity) {
    return {.capacity = capacity,
            .collector = si<units::Area>(a, "A"),
            .curve = curve(a),
            .loss = si<units::Conductance>(a, "UA"),
            .fluid_over_store = kelvins(number_or(a, "delta", 0.0)),
            .sun = si<units::Irradiance>(a, "G"),
            .air = celsius(a, "ta")};
}

Outputs evaluate_warm_up(const Arguments& a) {
    const auto capacity = store_capacity(si<units::Mass>(a, "m"),
                                         units::HeatCapacity::from_si(number_or(a, "Cx", 0.0)),
                                         units::SpecificHeat::from_si(number_or(a, "cw", 4182.0)));
    if (!capacity) return tl::unexpected(capacity.error());
    return temperature_after(solar_store(a, *capacity), celsius(a, "T0"), si<units::Time>(a, "t"))
        .map([](units::Temperature t) {
            return std::vector<Output>{{"T_end", "°C", t.in_celsius()}};
        });
}

std::string verdict_words(BalanceVerdict verdict) {
    switch (verdict) {
        case BalanceVerdict::Conforms:
            return "CONFORMS";
        case BalanceVerdict::DoesNotConform:
            return "DOES NOT CONFORM";
        case BalanceVerdict::Inconclusive:
            return "INCONCLUSIVE";
    }
    return "INCONCLUSIVE";
}

Outputs evaluate_balance(const Arguments& a) {
    return heat_balance({.store = solar_store(a, si<units::HeatCapacity>(a, "C")),
                         .start = celsius(a, "T1"),
                         .end = celsius(a, "T2"),
                         .length = si<units::Time>(a, "dt"),
                         .uncertainty = {.temperature = kelvins(number_of(a, "u_T")),
                                         .capacity = si<units::HeatCapacity>(a, "u_C"),
                                         .loss = si<units::Conductance>(a, "u_UA"),
                                         .sun = si<units::Irradiance>(a, "u_G"),
                                         .fluid_over_air = kelvins(number_of(a, "u_y")),
                                         .model = number_or(a, "r_mod", 0.05)},
                         .least_ratio = number_or(a, "R_min", 0.80)})
        .map([](const Balance& b) {
            return std::vector<Output>{{"Q_m", "W", b.measured.si()},
                                       {"Q_e", "W", b.expected.si()},
                                       {"R", "", b.ratio},
                                       {"u_R", "", b.uncertainty},
                                       {"verdict", "", verdict_words(b.verdict)}};
        });
}

Outputs evaluate_window(const Arguments& a) {
    return shortest_window({.uncertainty = kelvins(number_of(a, "u_T")),
                            .capacity = si<units::HeatCapacity>(a, "C"),
                            .share = number_or(a, "q", 0.05),
                            .expected = si<units::Power>(a, "Q_e")})
        .map([](units::Time t) {
            return std::vector<Output>{{"dt_min", "s", t.si()}};
        });
}

Outputs evaluate_pipe_loss(const Arguments& a) {
    auto surface = SurfaceCoefficient::from_si(number_or(a, "h", 10.0));
    if (is_given(a, "v")) {
        if (is_given(a, "h"))
            return no_complete_form("pipe-heat-loss", "either h or the wind v, not both");
        const auto outdoors = outdoor_surface(si<units::Speed>(a, "v"));
        if (!outdoors) return tl::unexpected(outdoors.error());
        surface = *outdoors;
    }
    return pipe_heat_loss({.outside = si<units::Length>(a, "Do"),
                           .insulation = si<units::Length>(a, "s"),
                           .conductivity = si<Conductivity>(a, "k"),
                           .surface = surface,
                           .fluid = celsius(a, "tf"),
                           .air = celsius(a, "ta")})
        .map([](const PipeLoss& loss) {
            return std::vector<Output>{{"q", "W/m", loss.loss.si()},
                                       {"ts", "°C", loss.jacket.in_celsius()}};
        });
}

Outputs evaluate_standing_loss(const Arguments& a) {
    constexpr double watts_per_kwh_a_day = 1000.0 / 24.0;
    const auto loss = standing_loss(units::watts(number_of(a, "Q") * watts_per_kwh_a_day));
    if (!loss) return tl::unexpected(loss.error());
    std::vector<Output> all{{"UA", "W/K", loss->si()}};
    const bool any = is_given(a, "C") || is_given(a, "T0") || is_given(a, "ta") || is_given(a, "t");
    if (!any) return all;
    if (!(is_given(a, "C") && is_given(a, "T0") && is_given(a, "ta") && is_given(a, "t")))
        return no_complete_form("store-standing-loss",
                                "C, T0, ta and t together for the temperature");
    const auto end = cooled_temperature(
        {*loss, si<units::HeatCapacity>(a, "C"), celsius(a, "T0"), celsius(a, "ta")},
        si<units::Time>(a, "t"));
    if (!end) return tl::unexpected(end.error());
    all.push_back({"T", "°C", end->in_celsius()});
    return all;
}

std::vector<Symbol> and_curve(std::vector<Symbol> symbols) {
    symbols.push_back(needs("eta0", "", "the optical efficiency", "0 to 1"));
    symbols.push_back(needs("a1", "W/(m² K)", "the loss coefficient"));
    symbols.push_back(needs("a2", "W/(m² K²)", "the quadratic loss coefficient"));
    symbols.push_back(needs("G", "W/m²", "the sun in the plane of the collector"));
    symbols.push_back(needs("ta", "°C", "the air temperature"));
    return symbols;
}

}  // namespace

std::vector<units::Computation> heat_computations() {
    return {
        {.name = "collector-efficiency",
         .title = "Efficiency of the collector",
         .on_site = "Gain to expect at the measured sun and temperature.",
         .equation = "Optical efficiency less linear and quadratic loss over the sun.",
         .source = "ISO 9806:2013; incidence modifier Souka & Safwat 1966, ASHRAE 93 (from memory)",
         .range = "Sun above zero; incidence to 60°.",
         .inputs = and_curve({needs("tm", "°C", "the mean fluid temperature"),
                              may("theta", "°", "the angle of incidence, with b0", "0 to 60"),
                              may("b0", "", "the share of the incidence modifier, with theta"),
                              may("A", "m²", "the collector area, for Q")}),
         .outputs = {needs("eta", "", "efficiency, may be negative"), needs("Q", "W", "power")},
         .evaluate = evaluate_efficiency},
        {.name = "stagnation",
         .title = "Stagnation temperature",
         .on_site = "How hot a collector gets without flow: material, antifreeze, burns.",
         .equation = "Where the efficiency curve crosses zero.",
         .source = "ISO 9806:2017; standard conditions 1000 W/m² and 30 °C",
         .range =
             "At least one loss coefficient above zero. About only: a value on the label wins.",
         .inputs = and_curve({}),
         .outputs = {needs("t_stg", "°C", "stagnation temperature")},
         .evaluate = evaluate_stagnation},
        {.name = "tank-warm-up",
         .title = "Warming of the store in the sun",
         .on_site = "What the thermometer should show after an hour or two without draw-off.",
         .equation =
             "Heat balance of a mixed store and its collector, integrated in steps of a minute.",
         .source = "ISO 9806 curve; Duffie & Beckman ch. 8 (from memory)",
         .range = "To 48 h; steady sun, no draw-off, electric heating off.",
         .inputs = and_curve(
             {needs("m", "kg", "the mass of water"),
              may("Cx", "J/K", "the heat capacity of metal and collector; 0 if left out"),
              needs("A", "m²", "the collector area"),
              needs("UA", "W/K", "the loss of store and pipe"),
              needs("T0", "°C", "the start temperature"), needs("t", "s", "the duration"),
              may("delta", "K", "the collector fluid over the mixed store; 0 if left out"),
              may("cw", "J/(kg K)", "the specific heat of water; 4182 if left out")}),
         .outputs = {needs("T_end", "°C", "temperature at the end")},
         .evaluate = evaluate_warm_up},
        {.name = "heat-balance",
         .title = "Heat balance of a short window",
         .on_site = "Does the set gain what its collector should, allowing for the thermometers.",
         .equation = "Measured over expected gain, with first-order uncertainty and a one-sided "
                     "decision at 95 %.",
         .source = "JCGM 100:2008 5.1.2; JCGM 106:2012 clause 8; ISO 9806",
         .range = "Sun steady within 10 %; a gain is expected. It does not replace ISO 9459.",
         .inputs = and_curve(
             {needs("C", "J/K", "the heat capacity"), needs("A", "m²", "the collector area"),
              needs("UA", "W/K", "the loss of store and pipe"),
              may("delta", "K", "the collector fluid over the mixed store; 0 if left out"),
              needs("T1", "°C", "the first store temperature"),
              needs("T2", "°C", "the second store temperature"),
              needs("dt", "s", "the time between them"),
              needs("u_T", "K", "the standard uncertainty of a temperature"),
              needs("u_C", "J/K", "the standard uncertainty of the heat capacity"),
              needs("u_UA", "W/K", "the standard uncertainty of the loss"),
              needs("u_G", "W/m²", "the standard uncertainty of the sun"),
              needs("u_y", "K", "the standard uncertainty of fluid over air"),
              may("r_mod", "", "the relative uncertainty of the model; 0.05 if left out"),
              may("R_min", "", "the least ratio; 0.8 if left out")}),
         .outputs = {needs("Q_m", "W", "measured gain"), needs("Q_e", "W", "expected gain"),
                     needs("R", "", "ratio"), needs("u_R", "", "standard uncertainty of the ratio"),
                     shaped(units::Shape::Text,
                            needs("verdict", "", "CONFORMS, DOES NOT CONFORM or INCONCLUSIVE"))},
         .evaluate = evaluate_balance},
        {.name = "heat-balance-window",
         .title = "Shortest useful window",
         .on_site = "How long to wait before the second reading.",
         .equation = "Root of two times thermometer uncertainty times heat capacity over the "
                     "allowed share of the gain.",
         .source = "First term of the heat balance",
         .range = "Gain above zero.",
         .inputs = {needs("u_T", "K", "the standard uncertainty of a temperature"),
                    needs("C", "J/K", "the heat capacity"),
                    may("q", "",
                        "the share of the gain the thermometer may take; 0.05 if left out"),
                    needs("Q_e", "W", "the expected gain")},
         .outputs = {needs("dt_min", "s", "shortest window")},
         .evaluate = evaluate_window},
        {.name = "pipe-heat-loss",
         .title = "Heat loss and jacket temperature of an insulated pipe",
         .on_site = "Is the insulation doing its job, and is the jacket safe to touch.",
         .equation = "Difference of temperature over the resistance of insulation and surface.",
         .source = "ISO 12241:2008 clause 4; outdoors McAdams in Duffie & Beckman (from memory)",
         .range = "Wind to 5 m/s.",
         .inputs = {needs("Do", "m", "the outside diameter of the tube"),
                    needs("s", "m", "the thickness of the insulation"),
                    needs("k", "W/(m K)", "the conductivity"),
                    may("h", "W/(m² K)", "the surface coefficient; 10 if left out"),
                    may("v", "m/s", "the wind outdoors, instead of h", "0 to 5"),
                    needs("tf", "°C", "the fluid temperature"),
                    needs("ta", "°C", "the air temperature")},
         .outputs = {needs("q", "W/m", "heat loss"), needs("ts", "°C", "jacket temperature")},
         .evaluate = evaluate_pipe_loss},
        {.name = "store-standing-loss",
         .title = "Standing loss and overnight temperature of a store",
         .on_site = "Is the store insulated, and what should the morning reading be.",
         .equation = "Loss in 24 h over 45 K; exponential approach to the air.",
         .source = "EN 12897:2016; lumped capacity",
         .range = "Loss above zero.",
         .inputs = {needs("Q", "kWh/24 h", "the loss in 24 h at 45 K"),
                    may("C", "J/K", "the heat capacity"), may("T0", "°C", "the start temperature"),
                    may("ta", "°C", "the mean air temperature"), may("t", "s", "the time")},
         .outputs = {needs("UA", "W/K", "loss per kelvin"),
                     needs("T", "°C", "temperature after the time")},
         .evaluate = evaluate_standing_loss},
    };
}

}  // namespace wm::plant::tables
