// The table of chart computations: shares, counts, drift.
#include <optional>
#include <utility>

#include "audit/charts.hpp"
#include "audit/computation_tables.hpp"
#include "measure/demands.hpp"

namespace wm::audit {
namespace {

using measure::Demands;
using units::Arguments;
using units::Computation;
using units::is_given;
using units::list_of;
using units::number_if_given;
using units::number_of;
using units::Output;
using units::Shape;
using units::step_unit_given;
using units::unit_given;

void push_common_limits(std::vector<Output>& outputs, const Interval& limits) {
    outputs.push_back({"LCL", "", limits.low});
    outputs.push_back({"UCL", "", limits.high});
}

void push_limits_of_each(std::vector<Output>& outputs, const std::vector<Interval>& limits) {
    std::vector<double> low;
    std::vector<double> high;
    for (const Interval& each : limits) {
        low.push_back(each.low);
        high.push_back(each.high);
    }
    outputs.push_back({"LCL", "", std::move(low)});
    outputs.push_back({"UCL", "", std::move(high)});
}

Outputs p_chart(const Arguments& given) {
    auto tallies = tallies_of(given, "p-chart", "d", "n");
    if (!tallies) return refused(tallies.error());
    const auto chart = share_chart(*tallies);
    if (!chart) return refused(chart.error());
    std::vector<Output> outputs{{"pbar", "", chart->centre}};
    if (list_of(given, "n").size() == 1) {
        push_common_limits(outputs, chart->limits.front());
    } else {
        push_limits_of_each(outputs, chart->limits);
    }
    return outputs;
}

Outputs u_chart(const Arguments& given) {
    const auto counts = counts_of(given, "u-chart", "c");
    if (!counts) return refused(counts.error());
    if (!is_given(given, "a")) {
        const auto chart = count_chart(*counts);
        if (!chart) return refused(chart.error());
        std::vector<Output> outputs{{"cbar", "", chart->centre}};
        push_common_limits(outputs, chart->limits.front());
        return outputs;
    }
    const auto& areas = list_of(given, "a");
    if (auto problem =
            Demands{"u-chart"}
                .that(areas.size() == counts->size(), "a", "it needs as many figures as c")
                .unmet()) {
        return refused(*std::move(problem));
    }
    std::vector<DefectRate> rates;
    for (std::size_t i = 0; i < areas.size(); ++i) rates.push_back({(*counts)[i], areas[i]});
    const auto chart = rate_chart(rates);
    if (!chart) return refused(chart.error());
    std::vector<Output> outputs{{"ubar", "", chart->centre}};
    push_limits_of_each(outputs, chart->limits);
    return outputs;
}

units::OutputValue count_from_one(std::optional<std::size_t> place) {
    if (!place) return std::monostate{};
    return static_cast<double>(*place + 1);
}

std::optional<Problem> push_average(std::vector<Output>& outputs, const Arguments& given) {
    const auto chart = weighted_average(
        list_of(given, "x"), {number_of(given, "mu0"), number_of(given, "sigma")},
        {number_if_given(given, "lam").value_or(0.2), number_if_given(given, "L").value_or(3.0)});
    if (!chart) return chart.error();
    std::vector<double> low;
    std::vector<double> high;
    for (const Interval& each : chart->limits) {
        low.push_back(each.low);
        high.push_back(each.high);
    }
    const std::string unit = unit_given(given, "x");
    outputs.push_back({"z", unit, chart->averages});
    outputs.push_back({"z_last", unit, chart->averages.back()});
    outputs.push_back({"UCL", unit, chart->settled.high});
    outputs.push_back({"LCL", unit, chart->settled.low});
    outputs.push_back({"UCL_t", unit, std::move(high)});
    outputs.push_back({"LCL_t", unit, std::move(low)});
    outputs.push_back({"first_z", "", count_from_one(chart->first_signal)});
    return std::nullopt;
}

std::optional<Problem> push_sums(std::vector<Output>& outputs, const Arguments& given) {
    const auto chart = cumulative_sum(list_of(given, "x"), number_of(given, "mu0"),
                                      {number_of(given, "k"), number_of(given, "h")});
    if (!chart) return chart.error();
    const std::string unit = step_unit_given(given, "x");
    outputs.push_back({"Sp", unit, chart->upward});
    outputs.push_back({"Sm", unit, chart->downward});
    outputs.push_back({"Sp_last", unit, chart->upward.back()});
    outputs.push_back({"Sm_last", unit, chart->downward.back()});
    outputs.push_back({"first", "", count_from_one(chart->first_signal)});
    return std::nullopt;
}

Outputs drift_charts(const Arguments& given) {
    const bool averages = is_given(given, "sigma");
    const bool sums = is_given(given, "k") && is_given(given, "h");
    if (!averages && !sums) {
        return refused(
            {.what = "Neither sigma nor k and h are given, so there is nothing to chart.",
             .where = "work-out drift-charts",
             .what_to_do = "Give sigma for the weighted average, k and h for the sums.",
             .kind = ProblemKind::WrongUse});
    }
    std::vector<Output> outputs;
    if (averages) {
        if (auto problem = push_average(outputs, given)) return refused(*std::move(problem));
    }
    if (sums) {
        if (auto problem = push_sums(outputs, given)) return refused(*std::move(problem));
    }
    return outputs;
}

Computation p_chart_computation() {
    return {.name = "p-chart",
            .title = "Share of failed checks, with limits",
            .on_site = "Whether this week's share of failures is unusual.",
            .equation = "p = Σd/Σn; limits p ± 3 √(p(1-p)/n), within 0 to 1.",
            .source = "NIST/SEMATECH e-Handbook 6.3.3.2; ISO 7870-2:2013.",
            .range = "Whole counts, d not above n, n at least 1; trustworthy from n p = 5 on.",
            .inputs = {list_symbol("d", "", "the failures of each week"),
                       list_symbol("n", "", "the tries of each week, or one for all")},
            .outputs = {output("pbar", "", "the common share"),
                        output("LCL", "", "the low limit, one for all or one each", Shape::List),
                        output("UCL", "", "the high limit, one for all or one each", Shape::List)},
            .evaluate = p_chart};
}

Computation u_chart_computation() {
    return {.name = "u-chart",
            .title = "Defects per visit, with limits",
            .on_site = "Whether defects per installation change over time.",
            .equation =
                "Equal opportunity: c ± 3 √c. Else u = Σc/Σa, limits u ± 3 √(u/a). Low limits at "
                "least 0; below a mean count of 5 exact Poisson limits.",
            .source = "NIST/SEMATECH e-Handbook 6.3.3.1; ISO 7870-2:2013.",
            .range = "Whole counts, areas above 0.",
            .inputs = {list_symbol("c", "", "the defects of each week"),
                       optional(list_symbol("a", "", "the area of opportunity of each week"))},
            .outputs = {optional(output("cbar", "", "the mean count")),
                        optional(output("ubar", "", "the mean rate")),
                        output("LCL", "", "the low limit, one for all or one each", Shape::List),
                        output("UCL", "", "the high limit, one for all or one each", Shape::List)},
            .evaluate = u_chart};
}

Computation drift_computation() {
    return {.name = "drift-charts",
            .title = "Slow drift: weighted average and cumulative sums",
            .on_site = "Sees a slow worsening sooner than a chart of single weeks.",
            .equation =
                "z = λx + (1-λ)z from μ0 on; limits μ0 ± Lσ √(λ/(2-λ)), at first narrower by "
                "√(1-(1-λ)^2t). S+ = max(0, x - (μ0+k) + S+), S- = max(0, (μ0-k) - x + S-), a "
                "signal beyond h.",
            .source = "NIST/SEMATECH e-Handbook 6.3.2.3 and 6.3.2.4; ISO 7870-4, ISO 7870-6.",
            .range = "σ above 0, λ above 0 and at most 1, h above 0; k and h in the unit of x.",
            .inputs = {list_symbol("x", "any", "the values in order"),
                       symbol("mu0", "like x", "what is expected of them"),
                       optional(symbol("sigma", "step of x", "their standard deviation")),
                       optional(symbol("lam", "", "λ, 0.2 if left out")),
                       optional(symbol("L", "", "the width in deviations, 3 if left out")),
                       optional(symbol("k", "step of x", "the slack of the sums")),
                       optional(symbol("h", "step of x", "the limit of the sums"))},
            .outputs =
                {optional(output("z", "like x", "the weighted averages", Shape::List)),
                 optional(output("z_last", "like x", "the last of them")),
                 optional(output("UCL", "like x", "the high limit once settled")),
                 optional(output("LCL", "like x", "the low limit once settled")),
                 optional(output("UCL_t", "like x", "the high limits from the start", Shape::List)),
                 optional(output("LCL_t", "like x", "the low limits from the start", Shape::List)),
                 optional(output("first_z", "", "the first average beyond the settled limits")),
                 optional(output("Sp", "step of x", "the upward sums", Shape::List)),
                 optional(output("Sm", "step of x", "the downward sums", Shape::List)),
                 optional(output("Sp_last", "step of x", "the last upward sum")),
                 optional(output("Sm_last", "step of x", "the last downward sum")),
                 optional(output("first", "", "the first value with a sum beyond h"))},
            .evaluate = drift_charts};
}

}  // namespace

std::vector<Computation> chart_computations() {
    return {p_chart_computation(), u_chart_computation(), drift_computation()};
}

}  // namespace wm::audit
