// The table of line fits and leak tests.
#include <cmath>
#include <utility>

#include "measure/computation_tables.hpp"
#include "measure/demands.hpp"
#include "measure/leak.hpp"
#include "measure/line_fit.hpp"

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
using units::unit_given;

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
    return {
        .name = "line-fit",
        .title = "Straight line through readings",
        .on_site = "How fast a reading changes with time, and how sure that is.",
        .equation =
            "Least squares: b = S_xy/S_xx, a = mean(y) - b mean(x), s with n - 2 degrees "
            "of freedom, s_b = s/√S_xx, interval b ± t s_b.",
        .source = "Ordinary least squares; NIST StRD linear regression, data set Norris.",
        .range = "At least 3 readings, not all at the same x; 5 or more on site.",
        .inputs =
            {{.name = "x", .unit = "any", .meaning = "the times or places", .shape = Shape::List},
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
        case LeakVerdict::Pass:
            return "PASS";
        case LeakVerdict::Leak:
            return "LEAK";
        case LeakVerdict::Inconclusive:
            break;
    }
    return "INCONCLUSIVE";
}

Outputs leak_verdict_outputs(const Arguments& given) {
    const auto evidence =
        leak_evidence({.times = list_of(given, "t"),
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
    return {
        .name = "leak-verdict",
        .title = "What a holding test proves",
        .on_site = "Turns readings and the steps of the gauge into an honest limit.",
        .equation =
            "Slope b of the line, its uncertainty from the larger of the scatter and δ/√12; "
            "L_min = t s_b,eff and L_up = max(0, -b) + L_min with the one-sided t. PASS if "
            "L_up ≤ L_a, LEAK if the lowest drop is beyond L_a, else INCONCLUSIVE.",
        .source =
            "t interval of a slope; JCGM 100:2008, F.2.2.1; the larger of the two is our "
            "convention.",
        .range =
            "At least 3 readings, corrected for temperature first; δ above 0. A needle that "
            "never moves proves only a drop below one step over the whole test.",
        .inputs = {{.name = "t", .unit = "min", .meaning = "the times", .shape = Shape::List},
                   {.name = "p", .unit = "kPa", .meaning = "the pressures", .shape = Shape::List},
                   {.name = "delta", .unit = "kPa", .meaning = "the smallest step of the gauge"},
                   share("conf", "the confidence"),
                   {.name = "L_a",
                    .unit = "kPa/min",
                    .meaning = "the allowed drop rate",
                    .optional = true}},
        .outputs = {output("slope", "kPa/min", "the slope"),
                    output("s", "kPa", "the scatter around the line"),
                    output("s_b", "kPa/min", "the standard uncertainty of the slope by scatter"),
                    output("s_b_eff", "kPa/min", "the same with the gauge's step as least scatter"),
                    output("lo", "kPa/min", "the low end of the slope's interval"),
                    output("hi", "kPa/min", "its high end"),
                    output("L_min", "kPa/min", "no smaller drop rate could be seen"),
                    output("L_up", "kPa/min", "the drop rate is below this"),
                    {.name = "level",
                     .unit = "",
                     .meaning = "whether the interval contains 0",
                     .shape = Shape::Flag},
                    {.name = "verdict",
                     .unit = "",
                     .meaning = "PASS, LEAK or INCONCLUSIVE",
                     .optional = true,
                     .shape = Shape::Text}},
        .evaluate = leak_verdict_outputs};
}

Outputs gauge_test_time(const Arguments& given) {
    const double n = number_of(given, "n");
    Demands demands{"gauge-test-time"};
    demands.that(n == std::floor(n) && n >= 3.0 && n <= 1e6, "n",
                 "it must be a whole number from 3 to 1000000");
    if (demands.unmet()) return refused(*demands.unmet());
    const double resolution = number_of(given, "delta");
    const auto time =
        shortest_hold({.resolution = resolution,
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
    return {
        .name = "gauge-test-time",
        .title = "Whether the gauge is good enough for this test",
        .on_site = "Stops a coarse dial from being used to find a small drop.",
        .equation =
            "T_min = t s_eff/(L √(n(n+1)/(12(n-1)))), s_eff the larger of s and δ/√12, t "
            "one-sided with n - 2 degrees of freedom; r = δ/Δp, at most 0.1 by common "
            "practice.",
        .source = "JCGM 100:2008, 4.3.7 and F.2.2; algebra of the slope's uncertainty.",
        .range =
            "Equal steps, at least 3 readings; L above 0, δ or s above 0. If the needle may "
            "stand still, take no less than δ/L.",
        .inputs = {{.name = "delta", .unit = "kPa", .meaning = "the smallest step of the gauge"},
                   {.name = "s",
                    .unit = "kPa",
                    .meaning = "the scatter of its readings",
                    .optional = true},
                   {.name = "L", .unit = "kPa/min", .meaning = "the allowed drop rate"},
                   {.name = "n", .unit = "", .meaning = "the number of readings"},
                   share("conf", "the confidence"),
                   {.name = "dp",
                    .unit = "kPa",
                    .meaning = "the allowed drop of the test",
                    .optional = true}},
        .outputs = {output("T_min", "min", "the shortest test, first to last reading"),
                    {.name = "r",
                     .unit = "",
                     .meaning = "step of the gauge over allowed drop",
                     .optional = true}},
        .evaluate = gauge_test_time};
}

}  // namespace

std::vector<Computation> fit_computations() {
    return {line_fit_computation(), leak_verdict_computation(), gauge_test_time_computation()};
}

}  // namespace wm::measure
