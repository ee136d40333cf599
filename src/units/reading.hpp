// Reading numbers and amounts as people type them, and printing them again.
#pragma once

#include <string>
#include <string_view>

#include "problem/result.hpp"
#include "units/unit.hpp"

namespace wm::units {

/// What a person entered: the text byte for byte, and what it means. The journal keeps the text.
struct Entered {
    std::string text;
    double value = 0.0;  ///< in `unit`
    Unit unit;
    int decimals = 0;    ///< digits after the point, so that the last digit can be judged

    [[nodiscard]] Amount amount() const { return Amount::of(value, unit); }
};

/// A decimal number: optional sign (also U+2212), digits, one point or one comma, optional
/// exponent. No thousands separator, no NaN, no infinity. Problem says what was not understood.
[[nodiscard]] Result<double> read_number(std::string_view text);

/// "23.5 N·m", "3,1 bar", "480". Without a unit, `expected` is meant. A unit of another
/// dimension is refused in words. `where` names the place for the message.
[[nodiscard]] Result<Entered> read_amount(std::string_view text, const Unit& expected,
                                          std::string_view where);

/// As read_amount, for any known unit; a bare number is a plain one.
[[nodiscard]] Result<Entered> read_any_amount(std::string_view text, std::string_view where);

enum class DecimalMark { Point, Comma };

/// `value` with `decimals` digits, never "-0".
[[nodiscard]] std::string print_number(double value, int decimals, DecimalMark mark = DecimalMark::Point);

/// The shortest text of at most `significant` digits, trailing zeros dropped.
[[nodiscard]] std::string print_short(double value, int significant = 6,
                                      DecimalMark mark = DecimalMark::Point);

/// "23.5 N·m"; degrees of angle and percent sit close: "34.4°", "10 %".
[[nodiscard]] std::string print_amount(double value, int decimals, const Unit& unit,
                                       DecimalMark mark = DecimalMark::Point);
[[nodiscard]] std::string print_amount(const Amount& amount, int significant, const Unit& unit,
                                       DecimalMark mark = DecimalMark::Point);

}  // namespace wm::units
