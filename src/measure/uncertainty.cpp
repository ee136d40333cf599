// Combination and propagation of uncertainties.
#include "measure/uncertainty.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "measure/demands.hpp"
#include "measure/distributions.hpp"

namespace wm::measure {
namespace {

/// Degrees of freedom are cut to a whole number; one that is whole in decimals stays.
double whole_degrees(double degrees) {
    return std::isinf(degrees) ? degrees : std::floor(degrees * (1.0 + 1e-12));
}

Problem no_number(double result) {
    return unfit_input(
        "propagation of uncertainty", "of the equation",
        fmt::format("at or beside its estimates the result is {}, no number", result));
}

}  // namespace

Contribution from_scatter(double standard_deviation, int readings) {
    assert(standard_deviation >= 0.0 && readings > 1 && "scatter comes from two readings or more");
    return {standard_deviation / std::sqrt(readings), readings - 1.0, 1.0};
}

Contribution from_rectangle(double half_width) {
    assert(half_width >= 0.0 && "a width is not negative");
    return {half_width / std::numbers::sqrt3, unlimited_degrees, 1.0};
}

Contribution from_triangle(double half_width) {
    assert(half_width >= 0.0 && "a width is not negative");
    return {half_width / std::sqrt(6.0), unlimited_degrees, 1.0};
}

Contribution from_resolution(double step) {
    return from_rectangle(step / 2.0);
}

Contribution from_certificate(double expanded_uncertainty, double coverage_factor) {
    assert(expanded_uncertainty >= 0.0 && coverage_factor > 0.0 && "a certificate states both");
    return {expanded_uncertainty / coverage_factor, unlimited_degrees, 1.0};
}

Result<Combined> combine(std::span<const Contribution> contributions, double coverage) {
    Demands demands{"uncertainty"};
    demands.that(!contributions.empty(), "u", "at least one contribution is needed")
        .inner_share("p", coverage);
    for (const Contribution& each : contributions) {
        demands.not_negative("u", each.standard_uncertainty)
            .that(each.degrees > 0.0, "nu", "degrees of freedom must be above 0")
            .finite("c", each.sensitivity);
    }
    if (demands.unmet()) return refused(*demands.unmet());

    double variance = 0.0;
    double doubt_of_variance = 0.0;
    for (const Contribution& each : contributions) {
        const double share = each.sensitivity * each.standard_uncertainty;
        variance += share * share;
        if (std::isinf(each.degrees)) continue;
        doubt_of_variance += share * share * share * share / each.degrees;
    }
    Combined combined;
    combined.standard_uncertainty = std::sqrt(variance);
    if (doubt_of_variance > 0.0)
        combined.effective_degrees = variance * variance / doubt_of_variance;
    demands.that(variance > 0.0, "u", "not all contributions can be 0")
        .that(std::isfinite(variance), "u", "the contributions are too large to square")
        .that(whole_degrees(combined.effective_degrees) >= 1.0, "nu",
              "together they leave less than one degree of freedom");
    if (demands.unmet()) return refused(*demands.unmet());

    combined.coverage_factor =
        t_quantile(0.5 + 0.5 * coverage, whole_degrees(combined.effective_degrees));
    combined.expanded_uncertainty = combined.coverage_factor * combined.standard_uncertainty;
    return combined;
}

Result<double> expanded_uncertainty(const Specification& specification) {
    Demands demands{"uncertainty of an instrument"};
    demands.not_negative("largest permissible error", specification.largest_permissible_error)
        .not_negative("resolution", specification.resolution);
    if (demands.unmet()) return refused(*demands.unmet());
    return 2.0 *
           std::hypot(from_rectangle(specification.largest_permissible_error).standard_uncertainty,
                      from_resolution(specification.resolution).standard_uncertainty);
}

Result<double> difference_uncertainty(std::optional<double> from_catalogue, double resolution) {
    Demands demands{"uncertainty of a difference"};
    demands.not_negative("resolution", resolution);
    if (from_catalogue) demands.not_negative("uncertainty", *from_catalogue);
    if (demands.unmet()) return refused(*demands.unmet());
    return from_catalogue.value_or(2.0 * resolution);
}

Result<Estimate> propagated(const Equation& equation, std::span<const Estimate> inputs) {
    return propagated(equation, inputs, {});
}

Result<Estimate> propagated(const Equation& equation, std::span<const Estimate> inputs,
                            std::span<const Correlation> correlations) {
    Demands demands{"propagation of uncertainty"};
    std::vector<double> place;
    for (const Estimate& input : inputs) {
        demands.finite("value", input.value)
            .not_negative("standard uncertainty", input.standard_uncertainty);
        place.push_back(input.value);
    }
    for (const Correlation& pair : correlations) {
        demands
            .that(std::abs(pair.coefficient) <= 1.0, "correlation", "it must lie between −1 and 1")
            .that(pair.first < inputs.size() && pair.second < inputs.size() && pair.first != pair.second,
                  "correlation", "it must name two different inputs that are there");
    }
    if (demands.unmet()) return refused(*demands.unmet());

    const double value = equation(place);
    std::vector<double> changes;
    double variance = 0.0;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        place[i] = inputs[i].value + inputs[i].standard_uncertainty;
        const double above = equation(place);
        place[i] = inputs[i].value - inputs[i].standard_uncertainty;
        const double below = equation(place);
        place[i] = inputs[i].value;
        changes.push_back(0.5 * (above - below));
        variance += changes.back() * changes.back();
    }
    for (const Correlation& pair : correlations)
        variance += 2.0 * changes[pair.first] * changes[pair.second] * pair.coefficient;
    if (!std::isfinite(value)) return refused(no_number(value));
    if (!std::isfinite(variance)) return refused(no_number(variance));
    // Rounding may leave a hair below zero where everything cancels.
    return Estimate{value, std::sqrt(std::max(variance, 0.0))};
}

}  // namespace wm::measure
