// The reference function of type K.
#include "measure/thermocouple_k.hpp"

#include <array>
#include <cmath>
#include <span>

#include "measure/demands.hpp"

namespace wm::measure {
namespace {

using units::Temperature;
using units::Voltage;

// Millivolts over °C; coefficients from the lowest power on. Source: NIST Monograph 175, type K.
constexpr std::array above_ice{-1.760041368600e-02, 3.892120497500e-02,  1.855877003200e-05,
                               -9.945759287400e-08, 3.184094571900e-10,  -5.607284488900e-13,
                               5.607505905900e-16,  -3.202072000300e-19, 9.715114715200e-23,
                               -1.210472127500e-26};
constexpr std::array below_ice{0.0,
                               3.945012802500e-02,
                               2.362237359800e-05,
                               -3.285890678400e-07,
                               -4.990482877700e-09,
                               -6.750905917300e-11,
                               -5.741032742800e-13,
                               -3.108887289400e-15,
                               -1.045160936500e-17,
                               -1.988926687800e-20,
                               -1.632269748600e-23};
constexpr double bump_height = 0.118597600000;
constexpr double bump_width = -1.183432000000e-04;
constexpr double bump_place = 126.968600000;
constexpr double coldest = -200.0;
constexpr double hottest = 1372.0;

double polynomial(std::span<const double> coefficients, double t) {
    double sum = 0.0;
    for (std::size_t i = coefficients.size(); i-- > 0;) sum = sum * t + coefficients[i];
    return sum;
}

double millivolts_at(double t) {
    if (t < 0.0) return polynomial(below_ice, t);
    const double away = t - bump_place;
    return polynomial(above_ice, t) + bump_height * std::exp(bump_width * away * away);
}

/// The curve grows everywhere, so halving an interval finds the only place, to the last digits.
double celsius_at(double millivolts) {
    double low = coldest;
    double high = hottest;
    for (int step = 0; step < 60; ++step) {
        const double middle = 0.5 * (low + high);
        (millivolts_at(middle) < millivolts ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

Demands& within_range(Demands& demands, std::string_view symbol, Temperature temperature) {
    const double t = temperature.in_celsius();
    // A place on the kelvin scale loses a few of the last digits on its way back.
    constexpr double forgiven = 1e-9;
    return demands.finite(symbol, t).that(t >= coldest - forgiven && t <= hottest + forgiven,
                                          symbol, "it must lie between -200 °C and 1372 °C");
}

Voltage millivolts(double value) {
    return Voltage::from_si(value * 1e-3);
}

}  // namespace

Result<Voltage> couple_voltage(Temperature hot_end) {
    Demands demands{"thermocouple-k"};
    within_range(demands, "t", hot_end);
    if (demands.unmet()) return refused(*demands.unmet());
    return millivolts(millivolts_at(hot_end.in_celsius()));
}

Result<Voltage> couple_voltage(const CoupleEnds& ends) {
    Demands demands{"thermocouple-k"};
    within_range(demands, "t", ends.hot);
    within_range(demands, "t_cj", ends.cold);
    if (demands.unmet()) return refused(*demands.unmet());
    return millivolts(millivolts_at(ends.hot.in_celsius()) - millivolts_at(ends.cold.in_celsius()));
}

Result<Temperature> couple_temperature(Voltage measured, Temperature cold_end) {
    Demands demands{"thermocouple-k"};
    demands.finite("E", measured.si());
    within_range(demands, "t_cj", cold_end);
    if (demands.unmet()) return refused(*demands.unmet());
    const double total = measured.si() * 1e3 + millivolts_at(cold_end.in_celsius());
    demands.that(total >= millivolts_at(coldest) - 1e-9 && total <= millivolts_at(hottest) + 1e-9,
                 "E", "it must belong to a temperature between -200 °C and 1372 °C");
    if (demands.unmet()) return refused(*demands.unmet());
    return Temperature::celsius(celsius_at(total));
}

}  // namespace wm::measure
