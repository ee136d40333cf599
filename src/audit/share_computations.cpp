// The table of share computations: intervals, ranking, funnel, shrinkage.
#include <utility>

#include "audit/computation_tables.hpp"
#include "audit/funnel.hpp"
#include "audit/pareto.hpp"
#include "audit/shares.hpp"
#include "audit/shrinkage.hpp"
#include "measure/demands.hpp"

namespace wm::audit {
namespace {

using units::Arguments;
using units::Computation;
using units::is_given;
using units::number_if_given;
using units::number_of;
using units::Output;
using units::Shape;

double confidence_of(const Arguments& given) {
    return number_if_given(given, "conf").value_or(0.95);
}

units::Symbol confidence_symbol() {
    return optional(symbol("conf", "", "the confidence, 0.95 if left out"));
}

Outputs wilson_outputs(const Arguments& given) {
    const auto tally = tally_of(given, "wilson", "x", "n");
    if (!tally) return refused(tally.error());
    const auto interval = wilson(*tally, confidence_of(given));
    if (!interval) return refused(interval.error());
    const auto exact = clopper_pearson(*tally, confidence_of(given));
    if (!exact) return refused(exact.error());
    return std::vector<Output>{{"lo", "", interval->low},
                               {"hi", "", interval->high},
                               {"exact_lo", "", exact->low},
                               {"exact_hi", "", exact->high}};
}

Computation wilson_computation() {
    return {
        .name = "wilson",
        .title = "Interval of a share",
        .on_site = "An honest share with few visits: 0 failures in 20 still allow 16 %.",
        .equation = "centre (p + z²/2n)/(1 + z²/n), half width z/(1 + z²/n) √(p(1-p)/n + z²/4n²). Exact: "
                    "quantiles of Beta(x, n-x+1) and Beta(x+1, n-x).",
        .source = "Wilson 1927; Newcombe 1998, Statistics in Medicine 17:857-872, method 3. Exact: Clopper and Pearson 1934.",
        .range = "Whole counts, n at least 1, x not above n.",
        .inputs = {symbol("x", "", "how many failed"), symbol("n", "", "how many were tried"),
                   confidence_symbol()},
        .outputs = {output("lo", "", "the low end"), output("hi", "", "the high end"),
                    output("exact_lo", "", "the low end that never covers less than it says"),
                    output("exact_hi", "", "the high end likewise")},
        .evaluate = wilson_outputs};
}

Outputs difference_outputs(const Arguments& given) {
    const auto first = tally_of(given, "share-difference", "x1", "n1");
    if (!first) return refused(first.error());
    const auto second = tally_of(given, "share-difference", "x2", "n2");
    if (!second) return refused(second.error());
    const auto found = share_difference(*first, *second, confidence_of(given));
    if (!found) return refused(found.error());
    return std::vector<Output>{{"d", "", found->difference},
                               {"lo", "", found->interval.low},
                               {"hi", "", found->interval.high}};
}

Computation difference_computation() {
    return {.name = "share-difference",
            .title = "Difference of two shares of failures",
            .on_site =
                "Whether the correction worked. An interval with 0 in it is no proof that it "
                "helped, and none that it did not.",
            .equation =
                "d = p1 - p2, with the Wilson limits of both: d - √((p1-l1)² + (u2-p2)²) to "
                "d + √((u1-p1)² + (p2-l2)²).",
            .source = "Newcombe 1998, Statistics in Medicine 17:873-890, method 10.",
            .range = "Whole counts, n1 and n2 at least 1.",
            .inputs = {symbol("x1", "", "how many failed before"), symbol("n1", "", "of how many"),
                       symbol("x2", "", "how many failed after"), symbol("n2", "", "of how many"),
                       confidence_symbol()},
            .outputs = {output("d", "", "the difference"), output("lo", "", "the low end"),
                        output("hi", "", "the high end")},
            .evaluate = difference_outputs};
}

Outputs pareto_outputs(const Arguments& given) {
    const auto counts = counts_of(given, "pareto", "n");
    if (!counts) return refused(counts.error());
    std::vector<NamedCount> named;
    for (const std::int64_t count : *counts) named.push_back({"", count});
    const auto ranked = pareto(named);
    if (!ranked) return refused(ranked.error());
    std::vector<double> sorted;
    std::vector<double> cumulative;
    std::vector<double> order;
    for (const ParetoRow& row : ranked->rows) {
        sorted.push_back(static_cast<double>(row.count));
        cumulative.push_back(row.cumulative_share);
        order.push_back(static_cast<double>(row.place + 1));
    }
    return std::vector<Output>{{"sorted", "", std::move(sorted)},
                               {"cum", "", std::move(cumulative)},
                               {"vital", "", static_cast<double>(ranked->vital_few)},
                               {"order", "", std::move(order)}};
}

Computation pareto_computation() {
    return {.name = "pareto",
            .title = "Which few checks cause most failures",
            .on_site = "Where to begin. Look at failures per try beside the counts.",
            .equation =
                "Counts from the largest down, running share of all; the vital few are the first "
                "ones that reach 80 %.",
            .source = "Common practice; the 80 % have no source.",
            .range = "Whole counts, not all 0.",
            .inputs = {list_symbol("n", "", "the counts")},
            .outputs = {output("sorted", "", "the counts, largest first", Shape::List),
                        output("cum", "", "the running share", Shape::List),
                        output("vital", "", "how many make 80 %"),
                        output("order", "", "their places in the list that was given, from 1",
                               Shape::List)},
            .evaluate = pareto_outputs};
}

Outputs funnel_outputs(const Arguments& given) {
    const auto tries = count_of(given, "funnel-limits", "n");
    if (!tries) return refused(tries.error());
    const auto limits = funnel_limits({.target = number_of(given, "p0"),
                                       .tries = *tries,
                                       .alpha = number_if_given(given, "alpha").value_or(0.002)});
    if (!limits) return refused(limits.error());
    std::vector<Output> outputs{{"lo", "", limits->low}, {"hi", "", limits->high}};
    if (!is_given(given, "xs") && !is_given(given, "ns")) return outputs;
    if (!is_given(given, "xs") || !is_given(given, "ns"))
        return refused(measure::unfit_input("funnel-limits", "xs, ns", "give both of them or neither"));
    const auto crews = tallies_of(given, "funnel-limits", "xs", "ns");
    if (!crews) return refused(crews.error());
    const auto spread = overdispersion(*crews, number_of(given, "p0"));
    if (!spread) return refused(spread.error());
    outputs.push_back({"phi", "", *spread});
    return outputs;
}

Computation funnel_computation() {
    return {
        .name = "funnel-limits",
        .title = "Fair limits for crews with different numbers of visits",
        .on_site = "Whether a crew is unusual, or only small.",
        .equation =
            "r the smallest count with B(r; n, p0) ≥ q; limit (r - a)/n, a = (B(r) - q)/(B(r) - "
            "B(r-1)), q = α/2 and 1 - α/2. φ: mean of z² over all crews, z = (x/n - p0)/√(p0(1-p0)/n), a tenth drawn in on each side.",
        .source = "Spiegelhalter 2005, Statistics in Medicine 24:1185-1202, appendix.",
        .range = "p0 and α between 0 and 1, n at least 1. Several crews: α = 0.002.",
        .inputs = {symbol("p0", "", "the common share"), symbol("n", "", "the visits of the crew"),
                   optional(symbol("alpha", "", "share outside by chance, 0.002 if left out")),
                   optional(list_symbol("xs", "", "how many failed, crew by crew, for φ")),
                   optional(list_symbol("ns", "", "of how many"))},
        .outputs = {output("lo", "", "the low limit"), output("hi", "", "the high limit"),
                    optional(output("phi", "", "φ: above 1 crews scatter more than chance, and the limits deserve √φ as much room"))},
        .evaluate = funnel_outputs};
}

Outputs shrunken_outputs(const Arguments& given) {
    const auto crews = tallies_of(given, "shrunken-share", "x", "n");
    if (!crews) return refused(crews.error());
    const auto result = shrunken_shares(*crews);
    if (!result) return refused(result.error());
    std::vector<double> shares;
    std::vector<double> low;
    std::vector<double> high;
    for (const ShrunkenShare& crew : result->crews) {
        shares.push_back(crew.share);
        low.push_back(crew.credible.low);
        high.push_back(crew.credible.high);
    }
    return std::vector<Output>{{"p", "", result->common_share}, {"rho", "", result->correlation},
                               {"M", "", result->weight},       {"shrunk", "", std::move(shares)},
                               {"lo", "", std::move(low)},      {"hi", "", std::move(high)}};
}

Computation shrunken_computation() {
    return {.name = "shrunken-share",
            .title = "Shares of crews, drawn towards the common one",
            .on_site =
                "Compares crews without punishing the one with three visits. A rank stays "
                "uncertain: look at the intervals.",
            .equation =
                "p = Σx/N; S = Σn(x/n - p)²; ρ = [S/(p(1-p)) - (k-1)]/[N - Σn²/N - (k-1)] within 0 "
                "to 0.999; M = 1/ρ - 1; share (x + M p)/(n + M), all p where ρ = 0.",
            .source = "Kleinman 1973, JASA 68:46-54; Morris 1983.",
            .range = "At least three crews, each with a visit, one with more than one.",
            .inputs = {list_symbol("x", "", "how many failed, crew by crew"),
                       list_symbol("n", "", "of how many")},
            .outputs = {output("p", "", "the common share"),
                        output("rho", "", "how alike the visits of one crew are"),
                        unbounded(output("M", "",
                                         "how many visits the common share is worth; "
                                         "infinite where nothing tells the crews apart")),
                        output("shrunk", "", "the shares", Shape::List),
                        output("lo", "", "low ends, 95 %", Shape::List),
                        output("hi", "", "high ends", Shape::List)},
            .evaluate = shrunken_outputs};
}

}  // namespace

std::vector<Computation> share_computations() {
    return {wilson_computation(), difference_computation(), pareto_computation(),
            funnel_computation(), shrunken_computation()};
}

}  // namespace wm::audit
