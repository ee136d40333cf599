#include "plant/yield.hpp"

#include <algorithm>
#include <cmath>

#include "plant/inputs.hpp"

namespace wm::plant {

namespace {
constexpr double seconds_per_day = 86400.0;
}

Result<SolarFraction> solar_fraction(const MonthOfSun& month) {
    Inputs inputs{"solar fraction"};
    inputs.positive("collector area", month.collector.si(), "m²")
        .not_negative("loss product", month.loss_product.si(), "W/(m² K)")
        .within("optical product", month.optical_product, 0.6, 0.9, "")
        .within("exchanger ratio", month.exchanger_ratio, 0.1, 1.0, "")
        .within("angle ratio", month.angle_ratio, 0.1, 1.0, "")
        .within("mean air temperature", month.mean_air.in_celsius(), -60.0, 60.0, "°C")
        .not_negative("sun of a day", month.day.si(), "J/m²")
        .within("number of days", month.days, 1, 366, "")
        .positive("load", month.load.si(), "J")
        .within("store per square metre", month.store_per_square_metre.si() * 1e3, 37.5, 300.0, "L")
        .positive("factor of water heating", month.water_heating_factor, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double area_over_load = month.collector.si() * month.exchanger_ratio / month.load.si();
    const double store = std::pow(month.store_per_square_metre.si() * 1e3 / 75.0, -0.25);
    const double x = area_over_load * month.loss_product.si() *
                     (100.0 - month.mean_air.in_celsius()) * seconds_per_day * month.days * store *
                     month.water_heating_factor;
    const double y =
        area_over_load * month.optical_product * month.angle_ratio * month.day.si() * month.days;
    inputs.within("loss ratio X", x, 0.0, 18.0, "").within("gain ratio Y", y, 0.0, 3.0, "");
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double f = 1.029 * y - 0.065 * x - 0.245 * y * y + 0.0018 * x * x + 0.0215 * y * y * y;
    return SolarFraction{.x = x, .y = y, .fraction = std::clamp(f, 0.0, 1.0)};
}

Result<units::Energy> water_load(const HotWater& water, int days) {
    constexpr double heat_j_m3_k = 4.16e6;
    const double rise = (water.set_point - water.mains).si();
    Inputs inputs{"water-heating load"};
    inputs.not_negative("draw", water.draw.si() * 1e3 * seconds_per_day, "L/d")
        .within("set point", water.set_point.in_celsius(), 0.0, 100.0, "°C")
        .within("mains water", water.mains.in_celsius(), 0.0, 60.0, "°C")
        .within("number of days", days, 1, 366, "")
        .holds(rise > 0.0, "The set point is not above the mains water.",
               "Check both temperatures.");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return units::Energy::from_si(days * seconds_per_day * water.draw.si() * heat_j_m3_k * rise);
}

Result<double> water_heating_factor(units::Temperature set_point, units::Temperature mains,
                                    units::Temperature mean_air) {
    Inputs inputs{"factor of water heating"};
    inputs.within("set point", set_point.in_celsius(), 0.0, 100.0, "°C")
        .within("mains water", mains.in_celsius(), 0.0, 60.0, "°C")
        .within("mean air temperature", mean_air.in_celsius(), -60.0, 60.0, "°C");
    if (inputs.complaint()) return refused(*inputs.complaint());
    return (11.6 + 1.18 * set_point.in_celsius() + 3.86 * mains.in_celsius() -
            2.32 * mean_air.in_celsius()) /
           (100.0 - mean_air.in_celsius());
}

Result<Savings> savings(const SavingsCase& house) {
    Inputs inputs{"savings"};
    inputs.holds(!house.months.empty(), "There are no months.", "Give at least one month.")
        .within("efficiency of the heater", house.heater_efficiency, 0.01, 10.0, "")
        .not_negative("tariff", house.tariff.si(), "")
        .not_negative("emission factor", house.emission.si(), "")
        .not_negative("cost", house.cost, "")
        .within("number of years", house.years, 1, 50, "")
        .within("growth of the price", house.price_growth, -0.5, 0.5, "")
        .within("discount", house.discount, -0.5, 1.0, "");
    double useful = 0.0;
    for (const auto& month : house.months) {
        inputs.within("fraction of a month", month.fraction, 0.0, 1.0, "")
            .not_negative("load of a month", month.load.si(), "J");
        useful += month.fraction * month.load.si();
    }
    if (inputs.complaint()) return refused(*inputs.complaint());
    const double saved = useful / house.heater_efficiency;
    const double money = saved * house.tariff.si();
    double worth = -house.cost;
    for (int year = 1; year <= house.years; ++year)
        worth += money * std::pow(1.0 + house.price_growth, year - 1) /
                 std::pow(1.0 + house.discount, year);
    return Savings{.energy = units::Energy::from_si(saved),
                   .money = money,
                   .emission = units::kilograms(saved * house.emission.si()),
                   .present_worth = worth};
}

}  // namespace wm::plant
