// The table of measurement computations.
#include "measure/computations.hpp"

#include <cmath>
#include <utility>

#include "measure/acceptance_limits.hpp"
#include "measure/conformity.hpp"
#include "measure/demands.hpp"
#include "measure/leak.hpp"
#include "measure/line_fit.hpp"
#include "measure/pt100.hpp"
#include "measure/thermocouple_k.hpp"
#include "measure/uncertainty.hpp"

namespace wm::measure {
namespace {

using units::Arguments;
using units::Computation;
using units::list_of;
using units::number_if_given;
using units::number_of;
using units::Output;
using units::Shape;
using units::step_unit_given;
using units::Symbol;
using units::unit_given;

using Outputs = Result<std::vector<Output>>;

constexpr double usual_confidence = 0.95;

Symbol output(std::string name, std::string unit, std::string meaning) {
    return {.name = std::move(name), .unit = std::move(unit), .meaning = std::move(meaning)};
}

Symbol share(std::string name, std::string meaning) {
    return {.name = std::move(name), .unit = "", .meaning = std::move(meaning), .optional = true,
            .range = "above 0, below 1; 0.95 if left out"};
}

std::string per(const std::string& unit, const std::string& other) {
    if (other.empty()) return unit;
    return (unit.empty() ? "1" : unit) + "/" + other;
}

Outputs line_fit(const Arguments& given) {
    const auto fit = fitted_line(list_of(given, "x"), list_of(given, "y"));
    if (!fit) return refused(fit.error());
    const auto interval =
        slope_interval(*fit, number_if_given(given, "conf").value_or(usual_confidence));
    if (!interval) return refused(interval.error());
    const std::string rate = per(step_unit_given(given, "y"), step_unit_given(given, "x"));
    return std::vector<Output>{{"b", rate, fit->slope},
                               {"a", unit_given(given, "y"), fit->intercept},
                               {"s", step_unit_given(given, "y"), fit->scatter},
                               {"s_b", rate, fit->slope_uncertainty},
                               {"lo", rate, interval->low},
                               {"hi", rate, interval->high}};
}

Computation line_fit_computation() {
    return {.name = "line-fit",
            .title = "Straight line through readings",
            .on_site = "How fast a reading changes with time, and how sure that is.",
            .equation = "Least squares: b = S_xy/S_xx, a = mean(y) - b mean(x), s with n - 2 degrees "
                        "of freedom, s_b = s/√S_xx, interval b ± t s_b.",
            .source = "Ordinary least squares; NIST StRD linear regression, data set Norris.",
            .range = "At least 3 readings, not all at the same x; 5 or more on site.",
            .inputs = {{.name = "x", .unit = "any", .meaning = "the times or places", .shape = Shape::List},
                       {.name = "y", .unit = "any", .meaning = "the readings", .shape = Shape::List},
                       share("conf", "the confidence of the interval")},
            .outputs = {output("b", "any", "the slope"), output("a", "any", "the value at x = 0"),
                        output("s", "any", "the scatter around the line"),
                        output("s_b", "any", "the standard uncertainty of the slope"),
                        output("lo", "any", "the low end of the slope's interval"),
                        output("hi", "any", "its high end")},
            .evaluate = line_fit};
}

std::string words_of(LeakVerdict verdict) {
    switch (verdict) {
        case LeakVerdict::Pass: return "PASS";
        case LeakVerdict::Leak: return "LEAK";
        case LeakVerdict::Inconclusive: break;
    }
    return "INCONCLUSIVE";
}

Outputs leak_verdict_outputs(const Arguments& given) {
    const auto evidence = leak_evidence(
        {.times = list_of(given, "t"),
         .pressures = list_of(given, "p"),
         .resolution = number_of(given, "delta"),
         .confidence = number_if_given(given, "conf").value_or(usual_confidence)});
    if (!evidence) return refused(evidence.error());
    const std::string rate = "kPa/min";
    std::vector<Output> outputs{{"slope", rate, evidence->fit.slope},
                                {"s", "kPa", evidence->fit.scatter},
                                {"s_b", rate, evidence->fit.slope_uncertainty},
                                {"s_b_eff", rate, evidence->slope_uncertainty},
                                {"lo", rate, evidence->slope.low},
                                {"hi", rate, evidence->slope.high},
                                {"L_min", rate, evidence->detection_limit},
                                {"L_up", rate, evidence->highest_drop},
                                {"level", "", evidence->is_level()}};
    if (const auto allowed = number_if_given(given, "L_a")) {
        const auto verdict = leak_verdict(*evidence, *allowed);
        if (!verdict) return refused(verdict.error());
        outputs.push_back({"verdict", "", words_of(*verdict)});
    }
    return outputs;
}

Computation leak_verdict_computation() {
    return {.name = "leak-verdict",
            .title = "What a holding test proves",
            .on_site = "Turns readings and the steps of the gauge into an honest limit.",
            .equation = "Slope b of the line, its uncertainty from the larger of the scatter and δ/√12; "
                        "L_min = t s_b,eff and L_up = max(0, -b) + L_min with the one-sided t. PASS if "
                        "L_up ≤ L_a, LEAK if the lowest drop is beyond L_a, else INCONCLUSIVE.",
            .source = "t interval of a slope; JCGM 100:2008, F.2.2.1; the larger of the two is our "
                      "convention.",
            .range = "At least 3 readings, corrected for temperature first; δ above 0.",
            .inputs = {{.name = "t", .unit = "min", .meaning = "the times", .shape = Shape::List},
                       {.name = "p", .unit = "kPa", .meaning = "the pressures", .shape = Shape::List},
                       {.name = "delta", .unit = "kPa", .meaning = "the smallest step of the gauge"},
                       share("conf", "the confidence"),
                       {.name = "L_a", .unit = "kPa/min", .meaning = "the allowed drop rate",
                        .optional = true}},
            .outputs = {output("slope", "kPa/min", "the slope"),
                        output("s", "kPa", "the scatter around the line"),
                        output("s_b", "kPa/min", "the standard uncertainty of the slope by scatter"),
                        output("s_b_eff", "kPa/min", "the same with the gauge's step as least scatter"),
                        output("lo", "kPa/min", "the low end of the slope's interval"),
                        output("hi", "kPa/min", "its high end"),
                        output("L_min", "kPa/min", "no smaller drop rate could be seen"),
                        output("L_up", "kPa/min", "the drop rate is below this"),
                        {.name = "level", .unit = "", .meaning = "whether the interval contains 0",
                         .shape = Shape::Flag},
                        {.name = "verdict", .unit = "", .meaning = "PASS, LEAK or INCONCLUSIVE",
                         .optional = true, .shape = Shape::Text}},
            .evaluate = leak_verdict_outputs};
}

Outputs gauge_test_time(const Arguments& given) {
    const double n = number_of(given, "n");
    Demands demands{"gauge-test-time"};
    demands.that(n == std::floor(n) && n >= 3.0 && n <= 1e6, "n",
                 "it must be a whole number from 3 to 1000000");
    if (demands.unmet()) return refused(*demands.unmet());
    const double resolution = number_of(given, "delta");
    const auto time = shortest_hold(
        {.resolution = resolution,
         .scatter = number_if_given(given, "s").value_or(0.0),
         .allowed_rate = number_of(given, "L"),
         .readings = static_cast<int>(n),
         .confidence = number_if_given(given, "conf").value_or(usual_confidence)});
    if (!time) return refused(time.error());
    std::vector<Output> outputs{{"T_min", "min", *time}};
    if (const auto drop = number_if_given(given, "dp")) {
        if (auto problem = Demands{"gauge-test-time"}.positive("dp", *drop).unmet()) {
            return refused(*problem);
        }
        outputs.push_back({"r", "", resolution / *drop});
    }
    return outputs;
}

Computation gauge_test_time_computation() {
    return {.name = "gauge-test-time",
            .title = "Whether the gauge is good enough for this test",
            .on_site = "Stops a coarse dial from being used to find a small drop.",
            .equation = "T_min = t s_eff/(L √(n(n+1)/(12(n-1)))), s_eff the larger of s and δ/√12, t "
                        "one-sided with n - 2 degrees of freedom; r = δ/Δp, at most 0.1 by common "
                        "practice.",
            .source = "JCGM 100:2008, 4.3.7 and F.2.2; algebra of the slope's uncertainty.",
            .range = "Equal steps, at least 3 readings; L above 0, δ or s above 0.",
            .inputs = {{.name = "delta", .unit = "kPa", .meaning = "the smallest step of the gauge"},
                       {.name = "s", .unit = "kPa", .meaning = "the scatter of its readings",
                        .optional = true},
                       {.name = "L", .unit = "kPa/min", .meaning = "the allowed drop rate"},
                       {.name = "n", .unit = "", .meaning = "the number of readings"},
                       share("conf", "the confidence"),
                       {.name = "dp", .unit = "kPa", .meaning = "the allowed drop of the test",
                        .optional = true}},
            .outputs = {output("T_min", "min", "the shortest test, first to last reading"),
                        {.name = "r", .unit = "", .meaning = "step of the gauge over allowed drop",
                         .optional = true}},
            .evaluate = gauge_test_time};
}

Outputs uncertainty(const Arguments& given) {
    const auto& u = list_of(given, "u");
    const auto as_long = [&](std::string_view symbol) {
        return !units::is_given(given, symbol) || list_of(given, symbol).size() == u.size();
    };
    Demands demands{"uncertainty"};
    demands.that(as_long("nu"), "nu", "it needs as many figures as u")
        .that(as_long("c"), "c", "it needs as many figures as u");
    if (demands.unmet()) return refused(*demands.unmet());
    std::vector<Contribution> contributions;
    for (std::size_t i = 0; i < u.size(); ++i) {
        Contribution each{.standard_uncertainty = u[i]};
        if (units::is_given(given, "nu")) each.degrees = list_of(given, "nu")[i];
        if (units::is_given(given, "c")) each.sensitivity = list_of(given, "c")[i];
        contributions.push_back(each);
    }
    const auto combined =
        combine(contributions, number_if_given(given, "p").value_or(usual_confidence));
    if (!combined) return refused(combined.error());
    const std::string unit = step_unit_given(given, "u");
    return std::vector<Output>{{"u_c", unit, combined->standard_uncertainty},
                               {"nu_eff", "", combined->effective_degrees},
                               {"k", "", combined->coverage_factor},
                               {"U", unit, combined->expanded_uncertainty}};
}

Computation uncertainty_computation() {
    return {.name = "uncertainty",
            .title = "Combined and expanded uncertainty",
            .on_site = "Puts a figure of doubt beside a reading.",
            .equation = "u_c² = Σ(c u)²; ν_eff = u_c⁴/Σ((c u)⁴/ν), cut to a whole number; k the t "
                        "quantile of (1+p)/2; U = k u_c.",
            .source = "JCGM 100:2008, 4.3, 5.1.2, G.4, H.1.",
            .range = "Independent contributions, not all 0. Without ν they count as well known.",
            .inputs = {{.name = "u", .unit = "any", .meaning = "the standard uncertainties",
                        .shape = Shape::List},
                       {.name = "nu", .unit = "", .meaning = "their degrees of freedom", .optional = true,
                        .shape = Shape::List},
                       share("p", "the coverage"),
                       {.name = "c", .unit = "", .meaning = "the sensitivities, 1 if left out",
                        .optional = true, .shape = Shape::List}},
            .outputs = {output("u_c", "any", "the combined standard uncertainty"),
                        output("nu_eff", "", "the effective degrees of freedom"),
                        output("k", "", "the coverage factor"),
                        output("U", "any", "the expanded uncertainty")},
            .evaluate = uncertainty};
}

Limits limits_of(const Arguments& given) {
    return {number_if_given(given, "T_L"), number_if_given(given, "T_U")};
}

std::vector<Symbol> limit_symbols() {
    return {{.name = "T_L", .unit = "like y", .meaning = "the low limit", .optional = true},
            {.name = "T_U", .unit = "like y", .meaning = "the high limit", .optional = true}};
}

std::vector<Symbol> joined(std::vector<Symbol> symbols, std::vector<Symbol> more) {
    symbols.insert(symbols.end(), more.begin(), more.end());
    return symbols;
}

Outputs conformity_probability(const Arguments& given) {
    const auto probability =
        probability_conforming({number_of(given, "y"), number_of(given, "u")}, limits_of(given));
    if (!probability) return refused(probability.error());
    const Likelihood likelihood = likelihood_of(*probability);
    const std::string verdict = likelihood == Likelihood::Pass   ? "PASS"
                                : likelihood == Likelihood::Fail ? "FAIL"
                                                                 : "UNDECIDED";
    return std::vector<Output>{{"p_c", "", *probability}, {"verdict", "", verdict}};
}

Computation conformity_probability_computation() {
    return {.name = "conformity-probability",
            .title = "Probability of conformity",
            .on_site = "How sure it is that a reading lies within its tolerance.",
            .equation = "p_c = Φ((T_U - y)/u) - Φ((T_L - y)/u), a missing limit drops its term; PASS from "
                        "0.95 on, FAIL up to 0.05, else UNDECIDED (our convention).",
            .source = "JCGM 106:2012, clause 7.",
            .range = "At least one limit; u not negative; normal error, no knowledge from before.",
            .inputs = joined({{.name = "y", .unit = "any", .meaning = "the reading"},
                              {.name = "u", .unit = "step of y", .meaning = "its standard uncertainty"}},
                             limit_symbols()),
            .outputs = {output("p_c", "", "the probability"),
                        {.name = "verdict", .unit = "", .meaning = "PASS, FAIL or UNDECIDED",
                         .shape = Shape::Text}},
            .evaluate = conformity_probability};
}

std::string words_of(Ruling ruling) {
    switch (ruling) {
        case Ruling::Accept: return "ACCEPT";
        case Ruling::Reject: return "REJECT";
        case Ruling::Undecided: break;
    }
    return "UNDECIDED";
}

Outputs acceptance_limits_outputs(const Arguments& given) {
    const Limits tolerance = limits_of(given);
    const GuardBand band{number_of(given, "U"), number_if_given(given, "r").value_or(1.0)};
    const auto acceptance = acceptance_limits(tolerance, band);
    if (!acceptance) return refused(acceptance.error());
    const double reading = number_of(given, "y");
    const auto guarded = symmetrical_ruling(reading, tolerance, band);
    if (!guarded) return refused(guarded.error());
    const auto simple = symmetrical_ruling(reading, tolerance, {band.expanded_uncertainty, 0.0});
    if (!simple) return refused(simple.error());

    const std::string unit = unit_given(given, "y");
    std::vector<Output> outputs;
    if (acceptance->limits.low) outputs.push_back({"A_L", unit, *acceptance->limits.low});
    if (acceptance->limits.high) outputs.push_back({"A_U", unit, *acceptance->limits.high});
    if (acceptance->uncertainty_ratio) outputs.push_back({"TUR", "", *acceptance->uncertainty_ratio});
    if (acceptance->capability) outputs.push_back({"C_m", "", *acceptance->capability});
    outputs.push_back({"verdict", "", words_of(*guarded)});
    outputs.push_back({"simple", "", words_of(*simple)});
    outputs.push_back({"unfit", "", acceptance->nothing_left});
    return outputs;
}

Computation acceptance_limits_computation() {
    return {.name = "acceptance-limits",
            .title = "Acceptance limits with a guard band",
            .on_site = "What the instrument leaves of a tolerance. A check of a checklist is stricter: it "
                       "does not conform as soon as a reading lies outside the tolerance.",
            .equation = "w = r U; ACCEPT within T_L + w … T_U - w, REJECT outside T_L - w … T_U + w, else "
                        "UNDECIDED; TUR = (T_U - T_L)/(2U); C_m = (T_U - T_L)/(4u), u = U/2.",
            .source = "JCGM 106:2012, clause 8; ISO 14253-1:2017; ILAC-G8:09/2019.",
            .range = "At least one limit; U and r not negative. TUR of 4 or more is recommended.",
            .inputs = joined(limit_symbols(),
                             {{.name = "U", .unit = "step of y",
                               .meaning = "the expanded uncertainty, k = 2"},
                              {.name = "r", .unit = "", .meaning = "guard band over U, 1 if left out",
                               .optional = true},
                              {.name = "y", .unit = "any", .meaning = "the reading"}}),
            .outputs = {{.name = "A_L", .unit = "like y", .meaning = "the low acceptance limit",
                         .optional = true},
                        {.name = "A_U", .unit = "like y", .meaning = "the high acceptance limit",
                         .optional = true},
                        {.name = "TUR", .unit = "", .meaning = "half the tolerance over U",
                         .optional = true},
                        {.name = "C_m", .unit = "", .meaning = "the capability", .optional = true},
                        {.name = "verdict", .unit = "", .meaning = "ACCEPT, REJECT or UNDECIDED",
                         .shape = Shape::Text},
                        {.name = "simple", .unit = "", .meaning = "the same without guard band",
                         .shape = Shape::Text},
                        {.name = "unfit", .unit = "",
                         .meaning = "whether the guard bands leave nothing to accept",
                         .shape = Shape::Flag}},
            .evaluate = acceptance_limits_outputs};
}

/// Both directions of a sensor: exactly one of the two inputs is to be given.
std::optional<Problem> unless_one_of(const Arguments& given, std::string_view where,
                                     std::string_view one, std::string_view other) {
    const bool both = units::is_given(given, one) && units::is_given(given, other);
    const bool none = !units::is_given(given, one) && !units::is_given(given, other);
    if (!both && !none) return std::nullopt;
    return Problem{.what = fmt::format("{} of {} and {} are given.", both ? "Both" : "None", one, other),
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
            .equation = "R = R0 (1 + A t + B t²), below 0 °C with C (t - 100) t³ in the bracket; class A "
                        "0.15 + 0.002|t|, class B 0.30 + 0.005|t|.",
            .source = "IEC 60751:2008.",
            .range = "-200 °C to 850 °C. Two-wire leads: 0.1 Ω reads 0.26 K too high.",
            .inputs = {{.name = "t", .unit = "°C", .meaning = "the temperature", .optional = true},
                       {.name = "R", .unit = "Ω", .meaning = "the resistance", .optional = true},
                       {.name = "R0", .unit = "Ω", .meaning = "the resistance at 0 °C, 100 Ω if left out",
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
    return {.name = "thermocouple-k",
            .title = "Type K thermocouple",
            .on_site = "Millivolts to degrees and back where a bare couple is used.",
            .equation = "The reference polynomials of type K, above 0 °C with one exponential term; the "
                        "voltage of the cold end is added in millivolts.",
            .source = "NIST ITS-90 thermocouple database (Monograph 175); IEC 60584-1:2013.",
            .range = "-200 °C to 1372 °C. Class 1 is ±1.5 K, class 2 ±2.5 K up to 333 °C to 375 °C.",
            .inputs = {{.name = "t", .unit = "°C", .meaning = "the hot end", .optional = true},
                       {.name = "E", .unit = "mV", .meaning = "the measured voltage", .optional = true},
                       {.name = "t_cj", .unit = "°C", .meaning = "the cold end, 0 °C if left out",
                        .optional = true}},
            .outputs = {{.name = "E", .unit = "mV", .meaning = "the voltage", .optional = true},
                        {.name = "t", .unit = "°C", .meaning = "the hot end", .optional = true}},
            .evaluate = thermocouple};
}

}  // namespace

std::vector<units::Computation> measure_computations() {
    return {line_fit_computation(),        leak_verdict_computation(),
            gauge_test_time_computation(), uncertainty_computation(),
            conformity_probability_computation(), acceptance_limits_computation(),
            pt100_computation(),           thermocouple_computation()};
}

}  // namespace wm::measure
