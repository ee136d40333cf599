// Rows of check values, written as a person would type them, against a table of computations.
#pragma once

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "units/workout.hpp"

namespace wm::testing {

/// "x = [1, 2] min; y = 3" as keys and values.
inline std::vector<std::pair<std::string, std::string>> keys_and_values(std::string_view row) {
    std::vector<std::pair<std::string, std::string>> pairs;
    const auto trimmed = [](std::string_view text) {
        const auto from = text.find_first_not_of(' ');
        if (from == std::string_view::npos) return std::string{};
        return std::string{text.substr(from, text.find_last_not_of(' ') - from + 1)};
    };
    for (std::size_t from = 0; from < row.size();) {
        const auto to = std::min(row.find(';', from), row.size());
        const auto part = row.substr(from, to - from);
        const auto equals = part.find('=');
        pairs.emplace_back(trimmed(part.substr(0, equals)), trimmed(part.substr(equals + 1)));
        from = to + 1;
    }
    return pairs;
}

/// The computation by that name evaluated on the row.
inline Result<std::vector<units::Output>> worked_out(const std::vector<units::Computation>& table,
                                                     std::string_view name, std::string_view row) {
    const units::Computation* computation = units::computation_named(table, name);
    REQUIRE(computation);
    return units::work_out(*computation, keys_and_values(row));
}

/// One figure of a row: its tolerance is absolute, or a share of the figure.
struct Figure {
    std::string symbol;
    std::variant<double, std::vector<double>, std::string, bool> value;
    std::string unit{};
    double absolute = 0.0;
    double relative = 0.0;
};

inline void check_figure(const std::vector<units::Output>& outputs, const Figure& figure) {
    CAPTURE(figure.symbol);
    const units::Output* found = nullptr;
    for (const auto& output : outputs) {
        if (output.symbol == figure.symbol) found = &output;
    }
    REQUIRE(found);
    CHECK(found->unit == figure.unit);
    const auto near = [&](double got, double wanted) {
        CAPTURE(got);
        CAPTURE(wanted);
        if (std::isinf(wanted)) {
            CHECK(got == wanted);
        } else {
            CHECK(std::abs(got - wanted) <= figure.absolute + figure.relative * std::abs(wanted));
        }
    };
    if (const auto* wanted = std::get_if<double>(&figure.value)) {
        const auto* got = std::get_if<double>(&found->value);
        REQUIRE(got);
        near(*got, *wanted);
    } else if (const auto* list = std::get_if<std::vector<double>>(&figure.value)) {
        const auto* got = std::get_if<std::vector<double>>(&found->value);
        REQUIRE(got);
        REQUIRE(got->size() == list->size());
        for (std::size_t i = 0; i < list->size(); ++i) near((*got)[i], (*list)[i]);
    } else if (const auto* text = std::get_if<std::string>(&figure.value)) {
        const auto* got = std::get_if<std::string>(&found->value);
        REQUIRE(got);
        CHECK(*got == *text);
    } else {
        const auto* got = std::get_if<bool>(&found->value);
        REQUIRE(got);
        CHECK(*got == std::get<bool>(figure.value));
    }
}

struct Row {
    std::string_view name;  ///< of the computation
    std::string_view inputs;
    std::vector<Figure> figures;
};

inline void check_row(const std::vector<units::Computation>& table, const Row& row) {
    CAPTURE(row.name);
    CAPTURE(row.inputs);
    const auto outputs = worked_out(table, row.name, row.inputs);
    const std::string told = outputs ? std::string{} : outputs.error().what;
    CAPTURE(told);
    REQUIRE(outputs);
    for (const Figure& figure : row.figures) check_figure(*outputs, figure);
}

}  // namespace wm::testing
