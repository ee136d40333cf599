// The table of temperature sensors.
#include <fmt/format.h>

#include <optional>
#include <string_view>
#include <utility>

#include "measure/computation_tables.hpp"
#include "measure/pt100.hpp"
#include "measure/thermocouple_k.hpp"

namespace wm::measure {
namespace {

using units::Arguments;
using units::Computation;
using units::number_if_given;
using units::number_of;
using units::Output;

/// Both directions of a sensor: exactly one of the two inputs is to be given.
std::optional<Problem> unless_one_of(const Arguments& given, std::string_view where,
                                     std::string_view one, std::string_view other) {
    const bool both = units::is_given(given, one) && units::is_given(given, other);
    const bool none = !units::is_given(given, one) && !units::is_given(given, other);
    if (!both && !none) return std::nullopt;
    return Problem{
        .what = fmt::format("{} of {} and {} are given.", both ? "Both" : "None", one, other),
        .where = std::string{where},
        .what_to_do = "Give the one you have; the other one is worked out.",
        .kind = ProblemKind::WrongUse};
}

Outputs pt100(const Arguments& given) {
    if (auto problem = unless_one_of(given, "pt100", "t", "R")) return refused(*std::move(problem));
    const auto at_ice_point = units::ohms(number_if_given(given, "R0").value_or(100.0));
    std::vector<Output> outputs;
    auto temperature = units::Temperature::celsius(number_if_given(given, "t").value_or(0.0));
    if (const auto resistance = number_if_given(given, "R")) {
        const auto found = platinum_temperature(units::ohms(*resistance), at_ice_point);
        if (!found) return refused(found.error());
        temperature = *found;
        outputs.push_back({"t", "°C", temperature.in_celsius()});
    } else {
        const auto found = platinum_resistance(temperature, at_ice_point);
        if (!found) return refused(found.error());
        outputs.push_back({"R", "Ω", found->si()});
    }
    outputs.push_back({"class_A", "K", platinum_tolerance(PlatinumClass::A, temperature).si()});
    outputs.push_back({"class_B", "K", platinum_tolerance(PlatinumClass::B, temperature).si()});
    return outputs;
}

Computation pt100_computation() {
    return {.name = "pt100",
            .title = "Platinum resistance thermometer",
            .on_site = "Ohms to degrees and back, and how far a sensor of its class may be off.",
            .equation =
                "R = R0 (1 + A t + B t²), below 0 °C with C (t - 100) t³ in the bracket; class A "
                "0.15 + 0.002|t|, class B 0.30 + 0.005|t|.",
            .source = "IEC 60751:2008.",
            .range = "-200 °C to 850 °C. Two-wire leads: 0.1 Ω reads 0.26 K too high.",
            .inputs = {{.name = "t", .unit = "°C", .meaning = "the temperature", .optional = true},
                       {.name = "R", .unit = "Ω", .meaning = "the resistance", .optional = true},
                       {.name = "R0",
                        .unit = "Ω",
                        .meaning = "the resistance at 0 °C, 100 Ω if left out",
                        .optional = true}},
            .outputs = {{.name = "R", .unit = "Ω", .meaning = "the resistance", .optional = true},
                        {.name = "t", .unit = "°C", .meaning = "the temperature", .optional = true},
                        output("class_A", "K", "the largest error of class A"),
                        output("class_B", "K", "the largest error of class B")},
            .evaluate = pt100};
}

Outputs thermocouple(const Arguments& given) {
    if (auto problem = unless_one_of(given, "thermocouple-k", "t", "E")) {
        return refused(*std::move(problem));
    }
    const auto cold = units::Temperature::celsius(number_if_given(given, "t_cj").value_or(0.0));
    if (const auto millivolts = number_if_given(given, "E")) {
        const auto hot = couple_temperature(units::volts(*millivolts * 1e-3), cold);
        if (!hot) return refused(hot.error());
        return std::vector<Output>{{"t", "°C", hot->in_celsius()}};
    }
    const auto hot = units::Temperature::celsius(number_of(given, "t"));
    const auto voltage = couple_voltage(CoupleEnds{.hot = hot, .cold = cold});
    if (!voltage) return refused(voltage.error());
    return std::vector<Output>{{"E", "mV", voltage->si() * 1e3}};
}

Computation thermocouple_computation() {
    return {
        .name = "thermocouple-k",
        .title = "Type K thermocouple",
        .on_site = "Millivolts to degrees and back where a bare couple is used.",
        .equation =
            "The reference polynomials of type K, above 0 °C with one exponential term; the "
            "voltage of the cold end is added in millivolts.",
        .source = "NIST ITS-90 thermocouple database (Monograph 175); IEC 60584-1:2013.",
        .range = "-200 °C to 1372 °C. Class 1 is ±1.5 K, class 2 ±2.5 K up to 333 °C to 375 °C.",
        .inputs = {{.name = "t", .unit = "°C", .meaning = "the hot end", .optional = true},
                   {.name = "E", .unit = "mV", .meaning = "the measured voltage", .optional = true},
                   {.name = "t_cj",
                    .unit = "°C",
                    .meaning = "the cold end, 0 °C if left out",
                    .optional = true}},
        .outputs = {{.name = "E", .unit = "mV", .meaning = "the voltage", .optional = true},
                    {.name = "t", .unit = "°C", .meaning = "the hot end", .optional = true}},
        .evaluate = thermocouple};
}

}  // namespace

std::vector<Computation> sensor_computations() {
    return {pt100_computation(), thermocouple_computation()};
}

}  // namespace wm::measure
