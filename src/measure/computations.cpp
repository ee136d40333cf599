// The table of measurement computations, and what its parts share.
#include "measure/computations.hpp"

#include <utility>

#include "measure/acceptance_limits.hpp"
#include "measure/computation_tables.hpp"
#include "measure/conformity.hpp"
#include "measure/demands.hpp"
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
    return {
        .name = "uncertainty",
        .title = "Combined and expanded uncertainty",
        .on_site = "Puts a figure of doubt beside a reading.",
        .equation =
            "u_c² = Σ(c u)²; ν_eff = u_c⁴/Σ((c u)⁴/ν), cut to a whole number; k the t "
            "quantile of (1+p)/2; U = k u_c.",
        .source = "JCGM 100:2008, 4.3, 5.1.2, G.4, H.1.",
        .range = "Independent contributions, not all 0. Without ν they count as well known.",
        .inputs = {{.name = "u",
                    .unit = "any",
                    .meaning = "the standard uncertainties",
                    .shape = Shape::List},
                   {.name = "nu",
                    .unit = "",
                    .meaning = "their degrees of freedom",
                    .optional = true,
                    .shape = Shape::List},
                   share("p", "the coverage"),
                   {.name = "c",
                    .unit = "",
                    .meaning = "the sensitivities, 1 if left out",
                    .optional = true,
                    .shape = Shape::List}},
        .outputs = {output("u_c", "any", "the combined standard uncertainty"),
                    {.name = "nu_eff",
                     .unit = "",
                     .meaning = "the effective degrees of freedom, infinite if all are known well",
                     .unbounded = true},
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
            .equation =
                "p_c = Φ((T_U - y)/u) - Φ((T_L - y)/u), a missing limit drops its term; PASS from "
                "0.95 on, FAIL up to 0.05, else UNDECIDED (our convention).",
            .source = "JCGM 106:2012, clause 7.",
            .range = "At least one limit; u not negative; normal error, no knowledge from before.",
            .inputs =
                joined({{.name = "y", .unit = "any", .meaning = "the reading"},
                        {.name = "u", .unit = "step of y", .meaning = "its standard uncertainty"}},
                       limit_symbols()),
            .outputs = {output("p_c", "", "the probability"),
                        {.name = "verdict",
                         .unit = "",
                         .meaning = "PASS, FAIL or UNDECIDED",
                         .shape = Shape::Text}},
            .evaluate = conformity_probability};
}

std::string words_of(Ruling ruling) {
    switch (ruling) {
        case Ruling::Accept:
            return "ACCEPT";
        case Ruling::Reject:
            return "REJECT";
        case Ruling::Undecided:
            break;
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
    if (acceptance->uncertainty_ratio)
        outputs.push_back({"TUR", "", *acceptance->uncertainty_ratio});
    if (acceptance->capability) outputs.push_back({"C_m", "", *acceptance->capability});
    outputs.push_back({"verdict", "", words_of(*guarded)});
    outputs.push_back({"simple", "", words_of(*simple)});
    outputs.push_back({"unfit", "", acceptance->nothing_left});
    return outputs;
}

Computation acceptance_limits_computation() {
    return {.name = "acceptance-limits",
            .title = "Acceptance limits with a guard band",
            .on_site =
                "What the instrument leaves of a tolerance. A check of a checklist is stricter: it "
                "does not conform as soon as a reading lies outside the tolerance.",
            .equation =
                "w = r U; ACCEPT within T_L + w … T_U - w, REJECT outside T_L - w … T_U + w, else "
                "UNDECIDED; TUR = (T_U - T_L)/(2U); C_m = (T_U - T_L)/(4u), u = U/2.",
            .source = "JCGM 106:2012, clause 8; ISO 14253-1:2017; ILAC-G8:09/2019.",
            .range = "At least one limit; U and r not negative. TUR of 4 or more is recommended.",
            .inputs = joined(
                limit_symbols(),
                {{.name = "U", .unit = "step of y", .meaning = "the expanded uncertainty, k = 2"},
                 {.name = "r",
                  .unit = "",
                  .meaning = "guard band over U, 1 if left out",
                  .optional = true},
                 {.name = "y", .unit = "any", .meaning = "the reading"}}),
            .outputs = {{.name = "A_L",
                         .unit = "like y",
                         .meaning = "the low acceptance limit",
                         .optional = true},
                        {.name = "A_U",
                         .unit = "like y",
                         .meaning = "the high acceptance limit",
                         .optional = true},
                        {.name = "TUR",
                         .unit = "",
                         .meaning = "half the tolerance over U",
                         .optional = true},
                        {.name = "C_m", .unit = "", .meaning = "the capability", .optional = true},
                        {.name = "verdict",
                         .unit = "",
                         .meaning = "ACCEPT, REJECT or UNDECIDED",
                         .shape = Shape::Text},
                        {.name = "simple",
                         .unit = "",
                         .meaning = "the same without guard band",
                         .shape = Shape::Text},
                        {.name = "unfit",
                         .unit = "",
                         .meaning = "whether the guard bands leave nothing to accept",
                         .shape = Shape::Flag}},
            .evaluate = acceptance_limits_outputs};
}

}  // namespace

units::Symbol output(std::string name, std::string unit, std::string meaning) {
    return {.name = std::move(name), .unit = std::move(unit), .meaning = std::move(meaning)};
}

units::Symbol share(std::string name, std::string meaning) {
    return {.name = std::move(name),
            .unit = "",
            .meaning = std::move(meaning),
            .optional = true,
            .range = "above 0, below 1; 0.95 if left out"};
}

std::vector<units::Computation> measure_computations() {
    std::vector<units::Computation> all = fit_computations();
    const std::vector<units::Computation> rules{uncertainty_computation(),
                                                conformity_probability_computation(),
                                                acceptance_limits_computation()};
    all.insert(all.end(), rules.begin(), rules.end());
    const std::vector<units::Computation> sensors = sensor_computations();
    all.insert(all.end(), sensors.begin(), sensors.end());
    return all;
}

}  // namespace wm::measure
