// The table of exact tests, time to correction and acceptance sampling.
#include <algorithm>
#include <cmath>
#include <utility>

#include "audit/computation_tables.hpp"
#include "audit/fisher.hpp"
#include "audit/sampling.hpp"
#include "audit/survival.hpp"
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

Outputs fisher_outputs(const Arguments& given) {
    const auto& table = units::table_of(given, "t");
    Demands demands{"fisher"};
    demands.that(table.size() == 2 && table[0].size() == 2 && table[1].size() == 2, "t",
                 "it must have two rows of two counts");
    if (demands.unmet()) return refused(*demands.unmet());
    for (const auto& row : table) {
        for (const double count : row) {
            demands.that(count >= 0.0 && count == std::floor(count) && count < 1e7, "t",
                         "each must be a whole number of 0 or more, below ten million");
        }
    }
    if (demands.unmet()) return refused(*demands.unmet());
    const auto tally = [](const std::vector<double>& row) {
        return Tally{static_cast<std::int64_t>(row[0]), static_cast<std::int64_t>(row[0] + row[1])};
    };
    const auto test = fisher_exact({tally(table[0]), tally(table[1])});
    if (!test) return refused(test.error());
    return std::vector<Output>{{"p_two", "", test->two_sided},
                               {"p_greater", "", test->greater},
                               {"p_less", "", test->less}};
}

Computation fisher_computation() {
    return {
        .name = "fisher",
        .title = "Whether the difference of two small counts is real",
        .on_site = "Two crews or two months side by side. Many comparisons: see false-discovery.",
        .equation =
            "Hypergeometric probabilities with all margins fixed; two-sided: the sum of those "
            "not above that of the table seen; greater: of that count or more.",
        .source = "Fisher 1935; Agresti, Categorical Data Analysis.",
        .range = "Whole counts of 0 or more, not all 0.",
        .inputs = {output("t", "", "[[failed, passed], [failed, passed]]", Shape::Table)},
        .outputs = {output("p_two", "", "two-sided"),
                    output("p_greater", "", "towards more failures in the first row"),
                    output("p_less", "", "towards fewer")},
        .evaluate = fisher_outputs};
}

Outputs discovery_outputs(const Arguments& given) {
    const double alpha = number_if_given(given, "alpha").value_or(0.05);
    if (auto problem = Demands{"false-discovery"}.inner_share("alpha", alpha).unmet()) {
        return refused(*std::move(problem));
    }
    const auto q = false_discovery(list_of(given, "p"));
    if (!q) return refused(q.error());
    std::vector<bool> rejected;
    for (const double each : *q) rejected.push_back(each <= alpha);
    const auto count = std::count(rejected.begin(), rejected.end(), true);
    return std::vector<Output>{{"q", "", *q},
                               {"rejected", "", std::move(rejected)},
                               {"n_rej", "", static_cast<double>(count)}};
}

Computation discovery_computation() {
    return {
        .name = "false-discovery",
        .title = "Many comparisons at once without false alarms",
        .on_site = "Every week compares hundreds of checks; some look odd by chance.",
        .equation =
            "p sorted upwards; q the least p m/j from there on, at most 1; found where q ≤ α.",
        .source = "Benjamini and Hochberg 1995, JRSS B 57:289-300.",
        .range = "Each p within 0 to 1.",
        .inputs = {list_symbol("p", "", "the probabilities"),
                   optional(symbol("alpha", "", "the share of false findings, 0.05 if left out"))},
        .outputs = {output("q", "", "in the order given", Shape::List),
                    output("rejected", "", "whether each is found", Shape::List),
                    output("n_rej", "", "how many are found")},
        .evaluate = discovery_outputs};
}

Outputs correction_outputs(const Arguments& given) {
    const auto& times = list_of(given, "t");
    const auto& events = list_of(given, "event");
    Demands demands{"time-to-correction"};
    demands.that(times.size() == events.size(), "event", "it needs as many figures as t");
    for (const double event : events) {
        demands.that(event == 0.0 || event == 1.0, "event",
                     "each must be 1 (closed) or 0 (still open)");
    }
    if (demands.unmet()) return refused(*demands.unmet());
    std::vector<OpenTime> open_times;
    for (std::size_t i = 0; i < times.size(); ++i) {
        open_times.push_back({times[i], events[i] == 1.0 ? Ending::Closed : Ending::StillOpen});
    }
    const auto curve = product_limit(open_times);
    if (!curve) return refused(curve.error());
    std::vector<double> at;
    std::vector<double> share;
    std::vector<double> error;
    for (const SurvivalStep& step : curve->steps) {
        at.push_back(step.time);
        share.push_back(step.open_share);
        error.push_back(step.standard_error);
    }
    const std::string unit = units::unit_given(given, "t");
    units::OutputValue median = std::monostate{};
    if (curve->median) median = *curve->median;
    return std::vector<Output>{{"time", unit, std::move(at)},
                               {"S", "", std::move(share)},
                               {"se", "", std::move(error)},
                               {"median", unit, std::move(median)}};
}

Computation correction_computation() {
    return {.name = "time-to-correction",
            .title = "How long failures stay open",
            .on_site = "Counts those still open as well, which a mean of the closed ones hides.",
            .equation =
                "S the product of 1 - d/n over the times passed, n at risk just before; standard "
                "error by Greenwood; median the first time with S ≤ 0.5.",
            .source = "Kaplan and Meier 1958; Greenwood 1926.",
            .range = "Times of 0 or more; no median is an answer.",
            .inputs = {list_symbol("t", "any", "the times open"),
                       list_symbol("event", "", "1 closed after that time, 0 still open")},
            .outputs = {output("time", "like t", "the times with a correction", Shape::List),
                        output("S", "", "the share still open", Shape::List),
                        output("se", "", "its standard error", Shape::List),
                        optional(output("median", "like t", "half are closed by then"))},
            .evaluate = correction_outputs};
}

Result<Plan> plan_given(const Arguments& given) {
    const auto sample = count_of(given, "acceptance-sampling", "n");
    if (!sample) return refused(sample.error());
    const auto accepted = count_of(given, "acceptance-sampling", "Ac");
    if (!accepted) return refused(accepted.error());
    return Plan{*sample, *accepted};
}

Result<Plan> plan_of_table(const Arguments& given) {
    const auto lot = count_of(given, "acceptance-sampling", "N");
    if (!lot) return refused(lot.error());
    // "2.5" as the table names it, or "2.5 %", which is read as 0.025.
    const double limit = number_of(given, "AQL");
    const double percent = limit < 0.5 ? 100.0 * limit : limit;
    const auto is = [&](double named) { return std::abs(percent - named) < 1e-9; };
    if (is(1.0)) return single_plan(*lot, QualityLimit::OnePercent);
    if (is(2.5)) return single_plan(*lot, QualityLimit::TwoAndAHalfPercent);
    if (is(4.0)) return single_plan(*lot, QualityLimit::FourPercent);
    return refused(measure::unfit_input("acceptance-sampling", "AQL", "it must be 1, 2.5 or 4"));
}

Problem no_question() {
    return {
        .what = "What is given makes no question.",
        .where = "work-out acceptance-sampling",
        .what_to_do = "Give n and Ac with one of p, Pa, or N and D_; or N and AQL for the plan.",
        .kind = ProblemKind::WrongUse};
}

/// The one figure that follows from a plan and what else is known.
Outputs plan_outputs(const Plan& plan, const Arguments& given) {
    const bool by_lot = is_given(given, "N") && is_given(given, "D_");
    const int questions = int{is_given(given, "p")} + int{is_given(given, "Pa")} + int{by_lot};
    if (questions != 1) return refused(no_question());
    if (is_given(given, "Pa")) {
        const auto share = failing_share_accepted(plan, number_of(given, "Pa"));
        if (!share) return refused(share.error());
        return std::vector<Output>{{"p", "", *share}};
    }
    Result<double> probability = 0.0;
    if (by_lot) {
        const auto total = count_of(given, "acceptance-sampling", "N");
        if (!total) return refused(total.error());
        const auto failing = count_of(given, "acceptance-sampling", "D_");
        if (!failing) return refused(failing.error());
        probability = acceptance_probability(plan, Lot{*total, *failing});
    } else {
        probability = acceptance_probability(plan, number_of(given, "p"));
    }
    if (!probability) return refused(probability.error());
    return std::vector<Output>{{"Pa", "", *probability}};
}

Outputs sampling_outputs(const Arguments& given) {
    if (is_given(given, "n") && is_given(given, "Ac")) {
        const auto plan = plan_given(given);
        if (!plan) return refused(plan.error());
        return plan_outputs(*plan, given);
    }
    if (!is_given(given, "N") || !is_given(given, "AQL")) return refused(no_question());
    const auto plan = plan_of_table(given);
    if (!plan) return refused(plan.error());
    const auto letter =
        code_letter(static_cast<std::int64_t>(number_of(given, "N")), InspectionLevel::II);
    if (!letter) return refused(letter.error());
    return std::vector<Output>{{"letter", "", std::string(1, *letter)},
                               {"n", "", static_cast<double>(plan->sample)},
                               {"Ac", "", static_cast<double>(plan->accepted)}};
}

Computation sampling_computation() {
    return {.name = "acceptance-sampling",
            .title = "How many jobs to look at again",
            .on_site = "What a sample of a crew's jobs can find, and how large it has to be.",
            .equation =
                "P_a = P(at most Ac failures): binomial for a large lot of share p, hypergeometric "
                "for D of N; turned round for the p that is accepted with P_a.",
            .source = "ISO 2859-1:1999, tables 1 and 2-A (acceptance numbers from memory).",
            .range = "n at least 1, Ac at most n; N 2 to 1200 for a plan, AQL 1, 2.5 or 4.",
            .inputs = {optional(symbol("n", "", "the sample")),
                       optional(symbol("Ac", "", "failures that are accepted")),
                       optional(symbol("p", "", "the share of failures of a large lot")),
                       optional(symbol("Pa", "", "the probability to accept")),
                       optional(symbol("N", "", "the jobs of the lot")),
                       optional(symbol("D_", "", "how many of them fail")),
                       optional(symbol("AQL", "", "the acceptable share: 1, 2.5 or 4 percent"))},
            .outputs = {optional(output("Pa", "", "the probability to accept")),
                        optional(output("p", "", "the share of failures accepted so often")),
                        optional(output("letter", "", "the code letter, level II", Shape::Text)),
                        optional(output("n", "", "the sample")),
                        optional(output("Ac", "", "failures that are accepted"))},
            .evaluate = sampling_outputs};
}

}  // namespace

std::vector<Computation> exact_computations() {
    return {fisher_computation(), discovery_computation(), correction_computation(),
            sampling_computation()};
}

}  // namespace wm::audit
