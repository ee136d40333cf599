#include "desk/expectation_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "desk/report_words.hpp"
#include "desk/view_parts.hpp"
#include "units/reading.hpp"

namespace wm::desk {

using language::filled;
using language::Language;

std::string round_to(double value, double step) { return units::print_number(std::round(value / step) * step, 0); }

std::string in_words(const Band& band, std::string_view unit, const Language& say) {
    const double step = band.high >= 500.0 ? 50.0 : band.high >= 100.0 ? 10.0 : band.high >= 20.0 ? 5.0 : 1.0;
    const std::string low = say.number(round_to(band.low, step));
    const std::string high = say.number(round_to(band.high, step));
    return low == high ? filled(say.text("about {amount} {unit}"), {{"amount", high}, {"unit", say.unit(unit)}})
                       : filled(say.text("{low} to {high} {unit}"), {{"low", low}, {"high", high}, {"unit", say.unit(unit)}});
}

void add_money(handover::Expectation& out, const JobInHand& job, const Band& year, const Language& say) {
    const auto price = job.facts().number("energy.price");
    if (price) {
        const std::string currency = fact_text(job.state(), "energy.currency");
        const std::string band = in_words({year.low * price->si, year.high * price->si},
                                          currency.empty() ? say.text("of your money") : currency, say);
        out.year.push_back({say.text("Money not spent on electricity"),
                            filled(say.text("{band} a year, at {price} for a kilowatt-hour"),
                                   {{"band", band}, {"price", say.number(units::print_short(price->si, 4))}})});
    } else {
        out.left_out.push_back(say.text("Money: the price of a kilowatt-hour is not on record."));
    }
    const auto carbon = job.facts().number("energy.co2_kg");
    if (carbon) {
        const std::string of_year = fact_text(job.state(), "energy.co2_year");
        const language::Fillings figures{{"band", in_words({year.low * carbon->si, year.high * carbon->si}, "kg", say)},
                                         {"mass", say.amount(units::print_short(carbon->si, 4) + " kg")},
                                         {"year", of_year}};
        out.year.push_back({say.text("Carbon dioxide not let out"),
                            filled(of_year.empty()
                                       ? say.text("{band} a year, at {mass} for a kilowatt-hour (year of this figure not on record)")
                                       : say.text("{band} a year, at {mass} for a kilowatt-hour in {year}"),
                                   figures)});
    } else {
        out.left_out.push_back(say.text("Carbon dioxide: what a kilowatt-hour lets out here is not on record."));
    }
}

void add_assumptions(handover::Expectation& out, const House& house, const Language& say) {
    const auto& sky = house.sun.sky;
    const auto figure = [&](double value, double step) { return say.number(round_to(value, step)); };
    const auto persons = static_cast<long>(std::lround(house.persons));
    const language::Fillings water{{"low", figure(litres_low, 1)}, {"high", figure(litres_high, 1)}, {"persons", figure(house.persons, 1)},
                                   {"usual", figure(litres_usual, 1)}, {"temperature", say.amount(round_to(hot_water_c, 1) + " °C")}};
    const language::Fillings set{{"area", say.amount(units::print_short(house.sun.collector.si(), 3) + " m²")},
                                 {"tilt", figure(sky.tilt.in_degrees(), 1)},
                                 {"azimuth", figure(sky.azimuth.in_degrees(), 1)},
                                 {"figures", house.has_sheet ? say.text("with the figures of its sheet")
                                                             : say.text("with figures usual for a flat collector, as its sheet is not on record")}};
    const language::Fillings sun{{"low", fmt::format("{:.0f}", 100.0 * std::max(house.sun_share - sun_either_way, 0.0))},
                                 {"high", fmt::format("{:.0f}", 100.0 * std::min(house.sun_share + sun_either_way, 1.0))},
                                 {"shade", sky.horizon.empty() ? say.text("no shade of hills, trees or chimneys")
                                                               : say.text("direct sun only over the line of hills, trees and houses")}};
    out.assumptions = {
        {say.text("Hot water"),
         filled(say.counted("{low} to {high} litres a person and day for {persons} person ({usual} is usual), heated to {temperature}",
                            "{low} to {high} litres a person and day for {persons} persons ({usual} is usual), heated to {temperature}", persons),
                water)},
        {say.text("Collector"), filled(say.text("{area}, tilted {tilt}°, facing {azimuth}°, {figures}"), set)},
        {say.text("Sun"), filled(say.text("bright for {low} to {high} of 100 hours of daylight; {shade}"), sun)},
        {say.text("Cold water"), say.text("follows the air of the place over the year")},
        {say.text("Method"), say.text("solar-fraction (f-chart, Klein, Beckman and Duffie 1976) on the tilted sky of FAO 56; as it is made for "
                                      "pumped sets, the low end lies 20 % under it (common practice, no source)")},
        {say.text("Not counted"), say.text("what the electric heater loses through its walls; it did so before")}};
}

std::string lacking(const Known& known, const Language& say) {
    std::string words;
    for (const auto& one : known.missing()) words += (words.empty() ? "" : "; ") + one;
    return filled(say.text("The year is not estimated, for lack of: {facts}."), {{"facts", words}});
}

}  // namespace wm::desk
