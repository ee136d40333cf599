#include "plant/workout_tables.hpp"
#include "plant/yield.hpp"

namespace wm::plant::tables {

using units::is_given;
using units::list_of;
using units::number_of;

namespace {

constexpr double joule_per_kwh = 3.6e6;
constexpr double litre_per_day = 1e-3 / 86400.0;  // in m³/s

Outputs evaluate_fraction(const Arguments& a) {
    const auto days = whole(a, "N");
    if (!days) return tl::unexpected(days.error());
    return solar_fraction({.collector = si<units::Area>(a, "A"),
                           .loss_product = si<units::Quantity<0, 1, -3, -1>>(a, "FRUL"),
                           .optical_product = number_of(a, "FRta"),
                           .exchanger_ratio = number_or(a, "FpFR", 1.0),
                           .angle_ratio = number_or(a, "tata", 1.0),
                           .mean_air = celsius(a, "Ta"),
                           .day = si<units::Irradiation>(a, "HT"),
                           .days = *days,
                           .load = si<units::Energy>(a, "L"),
                           .store_per_square_metre = units::litres(number_or(a, "M", 75.0)),
                           .water_heating_factor = number_or(a, "Xw", 1.0)})
        .map([](const SolarFraction& f) {
            return std::vector<Output>{{"X", "", f.x}, {"Y", "", f.y}, {"F", "", f.fraction}};
        });
}

Outputs evaluate_load(const Arguments& a) {
    const auto days = whole(a, "N");
    if (!days) return tl::unexpected(days.error());
    const auto load = water_load({units::VolumeFlow::from_si(number_of(a, "V") * litre_per_day),
                                  celsius(a, "Tw"), celsius(a, "Tm")},
                                 *days);
    if (!load) return tl::unexpected(load.error());
    std::vector<Output> all{{"L", "J", load->si()}};
    if (is_given(a, "Ta")) {
        const auto factor =
            water_heating_factor(celsius(a, "Tw"), celsius(a, "Tm"), celsius(a, "Ta"));
        if (!factor) return tl::unexpected(factor.error());
        all.push_back({"Xw", "", *factor});
    }
    return all;
}

Outputs evaluate_savings(const Arguments& a) {
    const auto years = whole(a, "n");
    if (!years) return tl::unexpected(years.error());
    const auto& fractions = list_of(a, "f");
    const auto& loads = list_of(a, "L");
    if (fractions.size() != loads.size())
        return no_complete_form("savings", "as many loads L as fractions f, one of each per month");
    std::vector<MonthlyShare> months;
    for (std::size_t i = 0; i < loads.size(); ++i)
        months.push_back({fractions[i], units::Energy::from_si(loads[i])});
    return savings(
               {.months = months,
                .heater_efficiency = number_or(a, "eta_h", 1.0),
                .tariff = EnergyPrice::from_si(number_of(a, "tariff") / joule_per_kwh),
                .emission = EmissionFactor::from_si(number_or(a, "factor", 0.0) / joule_per_kwh),
                .cost = number_of(a, "C0"),
                .years = *years,
                .price_growth = number_or(a, "g", 0.0),
                .discount = number_or(a, "d", 0.0)})
        .map([](const Savings& s) {
            return std::vector<Output>{{"E", "kWh", s.energy.si() / joule_per_kwh},
                                       {"money", "", s.money},
                                       {"CO2", "kg", s.emission.si()},
                                       {"NPV", "", s.present_worth}};
        });
}

}  // namespace

std::vector<units::Computation> yield_computations() {
    return {
        {.name = "solar-fraction",
         .title = "Solar fraction of a month",
         .on_site = "What the customer may expect; an upper bound for a thermosiphon set.",
         .equation =
             "Losses X and gains Y over the load in the f-chart polynomial, clipped to 0…1.",
         .source = "Klein, Beckman & Duffie 1976; Duffie & Beckman ch. 20",
         .range = "X to 18, Y to 3, optical product 0.6 to 0.9.",
         .inputs = {needs("A", "m²", "the collector area"),
                    needs("FRUL", "W/(m² K)", "heat removal factor times loss"),
                    needs("FRta", "", "heat removal factor times optical efficiency", "0.6 to 0.9"),
                    may("FpFR", "", "the ratio for the heat exchanger; 1 if left out"),
                    may("tata", "", "the ratio for slanting sun; 1 if left out"),
                    needs("Ta", "°C", "the mean air temperature"),
                    needs("HT", "J/m²", "the sun of a mean day on the plane"),
                    needs("N", "d", "the days of the month"),
                    needs("L", "J", "the load of the month"),
                    may("M", "L", "the store per square metre; 75 if left out", "37.5 to 300"),
                    may("Xw", "", "the factor where only water is heated; 1 if left out")},
         .outputs = {needs("X", "", "loss ratio"), needs("Y", "", "gain ratio"),
                     needs("F", "", "solar fraction")},
         .evaluate = evaluate_fraction},
        {.name = "water-load",
         .title = "Load of heating water",
         .on_site = "The month's load from litres a day.",
         .equation = "Days times litres times 4.16 MJ/(m³ K) times rise.",
         .source = "Duffie & Beckman ch. 20 (the factor from memory)",
         .range = "Set point above the mains water.",
         .inputs = {needs("V", "L/d", "the draw"), needs("Tw", "°C", "the set point"),
                    needs("Tm", "°C", "the mains water"),
                    may("Ta", "°C", "the mean air temperature, for Xw"),
                    needs("N", "d", "the days of the month")},
         .outputs = {needs("L", "J", "load"), needs("Xw", "", "factor where only water is heated")},
         .evaluate = evaluate_load},
        {.name = "savings",
         .title = "Savings of energy, money and carbon dioxide",
         .on_site = "Page one for the customer.",
         .equation =
             "Fractions times loads over the heater's efficiency; price, factor and present worth.",
         .source = "Arithmetic; Duffie & Beckman ch. 11",
         .range = "To 50 years.",
         .inputs = {shaped(units::Shape::List, needs("f", "", "the fraction of each month")),
                    shaped(units::Shape::List, needs("L", "J", "the load of each month")),
                    may("eta_h", "", "the efficiency of the heater; 1 if left out"),
                    needs("tariff", "1/kWh", "the price of energy"),
                    may("factor", "kg/kWh", "the emission of the grid; 0 if left out"),
                    needs("C0", "", "the cost today"), needs("n", "a", "the number of years"),
                    may("g", "", "the growth of the price in a year; 0 if left out"),
                    may("d", "", "the discount of a year; 0 if left out")},
         .outputs = {needs("E", "kWh", "energy saved in a year"),
                     needs("money", "", "money saved in the first year"),
                     needs("CO2", "kg", "carbon dioxide saved in a year"),
                     needs("NPV", "", "present worth less the cost")},
         .evaluate = evaluate_savings},
    };
}

}  // namespace wm::plant::tables
