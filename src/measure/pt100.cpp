// The equations of IEC 60751.
#include "measure/pt100.hpp"

#include <cmath>

#include "measure/demands.hpp"

namespace wm::measure {
namespace {

// R/R0 as a function of t in °C, with the symbols of IEC 60751:2008.
constexpr double A = 3.9083e-3;
constexpr double B = -5.775e-7;
constexpr double C = -4.183e-12;
constexpr double coldest = -200.0;
constexpr double hottest = 850.0;
// A place on the kelvin scale loses a few of the last digits on its way back.
constexpr double forgiven = 1e-9;

double ratio_at(double t) {
    const double warm = 1.0 + t * (A + t * B);
    return t >= 0.0 ? warm : warm + C * (t - 100.0) * t * t * t;
}

double slope_at(double t) {
    const double warm = A + 2.0 * B * t;
    return t >= 0.0 ? warm : warm + C * t * t * (4.0 * t - 300.0);
}

double celsius_at(double ratio) {
    double t = (-A + std::sqrt(A * A - 4.0 * B * (1.0 - ratio))) / (2.0 * B);
    if (ratio >= 1.0) return t;
    // Below 0 °C the quadratic is off by 2.5 K at most, and the curve is nearly straight.
    for (int step = 0; step < 6; ++step) t -= (ratio_at(t) - ratio) / slope_at(t);
    return t;
}

}  // namespace

Result<units::Resistance> platinum_resistance(units::Temperature temperature,
                                              units::Resistance at_ice_point) {
    const double t = temperature.in_celsius();
    Demands demands{"pt100"};
    demands.finite("t", t)
        .that(t >= coldest - forgiven && t <= hottest + forgiven, "t",
              "it must lie between -200 °C and 850 °C")
        .positive("R0", at_ice_point.si());
    if (demands.unmet()) return refused(*demands.unmet());
    return ratio_at(t) * at_ice_point;
}

Result<units::Temperature> platinum_temperature(units::Resistance resistance,
                                                units::Resistance at_ice_point) {
    Demands demands{"pt100"};
    demands.finite("R", resistance.si()).positive("R0", at_ice_point.si());
    if (demands.unmet()) return refused(*demands.unmet());
    const double ratio = units::ratio(resistance, at_ice_point);
    demands.that(ratio >= ratio_at(coldest) - forgiven && ratio <= ratio_at(hottest) + forgiven,
                 "R", "it must belong to a temperature between -200 °C and 850 °C");
    if (demands.unmet()) return refused(*demands.unmet());
    return units::Temperature::celsius(celsius_at(ratio));
}

units::TemperatureRise platinum_tolerance(PlatinumClass accuracy, units::Temperature temperature) {
    const double t = std::abs(temperature.in_celsius());
    return units::kelvins(accuracy == PlatinumClass::A ? 0.15 + 0.002 * t : 0.30 + 0.005 * t);
}

}  // namespace wm::measure
