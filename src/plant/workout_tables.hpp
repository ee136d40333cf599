// Parts of the table of computations, and the few words in which its rows are written.
#pragma once

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "problem/result.hpp"
#include "units/quantity.hpp"
#include "units/workout.hpp"

namespace wm::plant::tables {

[[nodiscard]] std::vector<units::Computation> water_computations();
[[nodiscard]] std::vector<units::Computation> pressure_computations();
[[nodiscard]] std::vector<units::Computation> heat_computations();
[[nodiscard]] std::vector<units::Computation> sun_computations();
[[nodiscard]] std::vector<units::Computation> circulation_computations();
[[nodiscard]] std::vector<units::Computation> roof_computations();
[[nodiscard]] std::vector<units::Computation> hygiene_computations();
[[nodiscard]] std::vector<units::Computation> yield_computations();
[[nodiscard]] std::vector<units::Computation> electric_computations();

using units::Arguments;
using units::Output;
using Outputs = Result<std::vector<Output>>;

/// A required number, an optional one, and anything else.
[[nodiscard]] inline units::Symbol needs(std::string name, std::string unit, std::string meaning,
                                         std::string range = {}) {
    return {.name = std::move(name),
            .unit = std::move(unit),
            .meaning = std::move(meaning),
            .optional = false,
            .shape = units::Shape::Number,
            .range = std::move(range)};
}
[[nodiscard]] inline units::Symbol may(std::string name, std::string unit, std::string meaning,
                                       std::string range = {}) {
    auto symbol = needs(std::move(name), std::move(unit), std::move(meaning), std::move(range));
    symbol.optional = true;
    return symbol;
}
[[nodiscard]] inline units::Symbol shaped(units::Shape shape, units::Symbol symbol) {
    symbol.shape = shape;
    return symbol;
}

/// The problem when the inputs given make no complete form of a computation.
[[nodiscard]] inline tl::unexpected<Problem> no_complete_form(std::string name, std::string forms) {
    return refused({"These inputs are not enough for an answer.", "work-out " + std::move(name),
                    "Give " + std::move(forms) + ".", ProblemKind::WrongUse});
}

/// A number that counts things; refused unless it is whole.
[[nodiscard]] inline Result<int> whole(const Arguments& arguments, const std::string& symbol) {
    const double value = units::number_of(arguments, symbol);
    if (value != std::floor(value) || std::abs(value) > 1e6)
        return refused({"The input " + symbol + " counts things and must be a whole number.",
                        symbol, "Give it without a fraction.", ProblemKind::Unreadable});
    return static_cast<int>(value);
}

[[nodiscard]] inline units::Temperature celsius(const Arguments& arguments,
                                                std::string_view symbol) {
    return units::Temperature::celsius(units::number_of(arguments, symbol));
}
[[nodiscard]] inline units::Angle degrees(const Arguments& arguments, std::string_view symbol) {
    return units::Angle::degrees(units::number_of(arguments, symbol));
}
/// For symbols whose unit is the SI unit of the quantity.
template <class Quantity>
[[nodiscard]] Quantity si(const Arguments& arguments, std::string_view symbol) {
    return Quantity::from_si(units::number_of(arguments, symbol));
}
template <class Quantity>
[[nodiscard]] Quantity si_or(const Arguments& arguments, std::string_view symbol,
                             Quantity otherwise) {
    return units::is_given(arguments, symbol) ? si<Quantity>(arguments, symbol) : otherwise;
}
[[nodiscard]] inline double number_or(const Arguments& arguments, std::string_view symbol,
                                      double otherwise) {
    return units::number_if_given(arguments, symbol).value_or(otherwise);
}

}  // namespace wm::plant::tables
