// Comparing with published figures, one by one or as rows through the table of computations.
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "plant/workout.hpp"
#include "units/reading.hpp"

namespace wm::plant::testing {

inline constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

/// Within `tolerance` in the unit of the figure.
inline bool is_near(double value, double expected, double tolerance) {
    return std::abs(value - expected) <= tolerance;
}

/// Within `percent` of the figure.
inline bool is_within(double value, double expected, double percent) {
    return std::abs(value - expected) <= std::abs(expected) * percent / 100.0;
}

/// One figure of a row: "2.424273 L" with "0.3 %" (relative), "0.02" (in its unit) or "exact".
struct Figure {
    std::string symbol;
    std::string text;
    std::string tolerance;
};

/// One row as a source prints it. The quality of the source: (a) read in print, (a*) in print but
/// quoted from memory and reproduced, (b) an independent library, (b') arithmetic of the equation,
/// (c) from memory.
struct PublishedRow {
    std::string name;
    std::vector<std::pair<std::string, std::string>> inputs;
    std::vector<Figure> figures;
    std::string source;
};

inline void check_number(const units::Output& output, const Figure& figure) {
    const auto expected = units::read_any_amount(figure.text, figure.symbol);
    const auto unit = units::unit_named(output.unit);
    REQUIRE(expected);
    REQUIRE(unit);
    REQUIRE(unit->dimension == expected->unit.dimension);
    const double value = *unit == expected->unit
                             ? std::get<double>(output.value)
                             : expected->unit.from_si(unit->to_si(std::get<double>(output.value)));
    CAPTURE(value);
    if (figure.tolerance == "exact") {
        CHECK(is_within(value, expected->value, 1e-12));
    } else if (figure.tolerance.ends_with('%')) {
        const auto percent =
            units::read_number(figure.tolerance.substr(0, figure.tolerance.size() - 1));
        REQUIRE(percent);
        CHECK(is_within(value, expected->value, *percent));
    } else {
        const auto tolerance = units::read_number(figure.tolerance);
        REQUIRE(tolerance);
        CHECK(is_near(value, expected->value, *tolerance));
    }
}

inline void check_figure(const std::vector<units::Output>& outputs, const Figure& figure) {
    CAPTURE(figure.symbol);
    CAPTURE(figure.text);
    for (const auto& output : outputs) {
        if (output.symbol != figure.symbol) continue;
        if (const auto* text = std::get_if<std::string>(&output.value)) {
            CHECK(*text == figure.text);
        } else if (const auto* flag = std::get_if<bool>(&output.value)) {
            CHECK((*flag ? "true" : "false") == figure.text);
        } else {
            REQUIRE(std::holds_alternative<double>(output.value));
            check_number(output, figure);
        }
        return;
    }
    FAIL_CHECK("the computation gives no such output");
}

/// Runs a row as the command line would, and compares each of its figures.
inline void check_row(const PublishedRow& row) {
    CAPTURE(row.name);
    CAPTURE(row.source);
    const auto* computation = units::computation_named(plant_computations(), row.name);
    REQUIRE(computation);
    const auto outputs = units::work_out(*computation, row.inputs);
    REQUIRE_MESSAGE(outputs, (outputs ? std::string{} : told(outputs.error())));
    for (const auto& figure : row.figures) check_figure(*outputs, figure);
}

}  // namespace wm::plant::testing
