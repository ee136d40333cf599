// Units as people write them, and amounts whose dimension is known only when the text is read.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace wm::units {

/// Exponents of metre, kilogram, second, kelvin, ampere, and of the plane angle, which is kept
/// apart so that a slope in degrees is not taken for a bare number.
struct Dimension {
    std::array<std::int8_t, 6> exponents{};

    friend constexpr bool operator==(const Dimension&, const Dimension&) = default;
    friend Dimension operator+(const Dimension& a, const Dimension& b);  ///< of a product
    friend Dimension operator-(const Dimension& a, const Dimension& b);  ///< of a quotient
    [[nodiscard]] bool is_plain() const { return *this == Dimension{}; }
};

/// Point: a place on the Celsius scale (60 °C). Gauge and Absolute: a pressure that says which.
/// Plain: everything else, a difference of temperature in K and a pressure in bare kPa included.
enum class Scale { Plain, Point, Gauge, Absolute };

/// One unit: value_si = value * factor + offset.
struct Unit {
    std::string_view symbol;  ///< as we print it: "N·m"
    Dimension dimension;
    Scale scale = Scale::Plain;
    double factor = 1.0;
    double offset = 0.0;

    [[nodiscard]] double to_si(double value) const { return value * factor + offset; }
    [[nodiscard]] double from_si(double si) const { return (si - offset) / factor; }
    friend bool operator==(const Unit& a, const Unit& b) { return a.symbol == b.symbol; }
};

/// The unit written so, any accepted spelling ("N m", "Ohm", "degC", "m2", "" for a bare number);
/// nullopt for an unknown one.
[[nodiscard]] std::optional<Unit> unit_named(std::string_view text);

/// All accepted spellings that start a list of remedies: "kPa, bar, psi".
[[nodiscard]] std::string units_like(const Unit& unit);

/// "a pressure", "a temperature", "a temperature difference", "a torque", … for messages.
[[nodiscard]] std::string dimension_in_words(const Dimension& dimension, Scale scale = Scale::Plain);

/// A number in SI units with its dimension, as expressions and computations pass it around.
struct Amount {
    double si = 0.0;
    Dimension dimension{};
    Scale scale = Scale::Plain;

    [[nodiscard]] static Amount of(double value, const Unit& unit) {
        return {unit.to_si(value), unit.dimension, unit.scale};
    }
    [[nodiscard]] static Amount plain(double value) { return {value, {}, Scale::Plain}; }
    [[nodiscard]] double in(const Unit& unit) const { return unit.from_si(si); }
};

}  // namespace wm::units
