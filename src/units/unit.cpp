#include "units/unit.hpp"

#include "units/unit_list.hpp"

#include <numbers>
#include <utility>
#include <vector>

namespace wm::units {

namespace {

constexpr Dimension dim(int m, int kg, int s, int k = 0, int a = 0, int angle = 0) {
    return {{static_cast<std::int8_t>(m), static_cast<std::int8_t>(kg), static_cast<std::int8_t>(s),
             static_cast<std::int8_t>(k), static_cast<std::int8_t>(a), static_cast<std::int8_t>(angle)}};
}

constexpr Dimension number = dim(0, 0, 0);
constexpr Dimension length = dim(1, 0, 0);
constexpr Dimension area = dim(2, 0, 0);
constexpr Dimension volume = dim(3, 0, 0);
constexpr Dimension mass = dim(0, 1, 0);
constexpr Dimension time = dim(0, 0, 1);
constexpr Dimension kelvin = dim(0, 0, 0, 1);
constexpr Dimension pressure = dim(-1, 1, -2);
constexpr Dimension pressure_rate = dim(-1, 1, -3);
constexpr Dimension force = dim(1, 1, -2);
constexpr Dimension energy = dim(2, 1, -2);
constexpr Dimension power = dim(2, 1, -3);
constexpr Dimension angle = dim(0, 0, 0, 0, 0, 1);
constexpr double degree = std::numbers::pi / 180.0;
constexpr double psi = 6894.757293168361;

struct Spelling {
    std::string_view text;
    Unit unit;
};

// The first spelling of a unit is the one we print. A row of its own for each other spelling.
const std::vector<Spelling>& spellings() {
    static const std::vector<Spelling> all = [] {
        std::vector<Spelling> s;
        const auto add = [&](std::initializer_list<std::string_view> texts, Dimension d, double factor,
                             Scale scale = Scale::Plain, double offset = 0.0) {
            for (const auto text : texts) s.push_back({text, {*texts.begin(), d, scale, factor, offset}});
        };
        add({"", "1", "–", "-"}, number, 1.0);
        add({"%", "percent", "% vol", "%vol"}, number, 0.01);
        add({"pieces", "persons", "x"}, number, 1.0);
        add({"pH"}, number, 1.0);
        add({"m"}, length, 1.0);
        add({"mm"}, length, 1e-3);
        add({"cm"}, length, 1e-2);
        add({"km"}, length, 1e3);
        add({"m²", "m2"}, area, 1.0);
        add({"mm²", "mm2"}, area, 1e-6);
        add({"m³", "m3"}, volume, 1.0);
        add({"L", "l"}, volume, 1e-3);
        add({"mL", "ml"}, volume, 1e-6);
        add({"kg"}, mass, 1.0);
        add({"g"}, mass, 1e-3);
        add({"s"}, time, 1.0);
        add({"ms"}, time, 1e-3);
        add({"min"}, time, 60.0);
        add({"h"}, time, 3600.0);
        add({"d"}, time, 86400.0);
        add({"week", "weeks"}, time, 604800.0);
        add({"a", "y"}, time, 31557600.0);
        add({"°C", "degC", "C", "celsius"}, kelvin, 1.0, Scale::Point, 273.15);
        add({"°F", "degF"}, kelvin, 5.0 / 9.0, Scale::Point, 459.67 * 5.0 / 9.0);
        add({"K"}, kelvin, 1.0);
        add({"Pa"}, pressure, 1.0);
        add({"kPa"}, pressure, 1e3);
        add({"MPa"}, pressure, 1e6);
        add({"GPa"}, pressure, 1e9);
        add({"bar"}, pressure, 1e5);
        add({"mbar"}, pressure, 1e2);
        add({"hPa"}, pressure, 1e2);
        add({"psi"}, pressure, psi);
        add({"Pa(g)", "Pa (g)"}, pressure, 1.0, Scale::Gauge);
        add({"kPa(g)", "kPa (g)"}, pressure, 1e3, Scale::Gauge);
        add({"bar(g)", "bar (g)"}, pressure, 1e5, Scale::Gauge);
        add({"psi(g)", "psi (g)"}, pressure, psi, Scale::Gauge);
        add({"MPa(g)", "MPa (g)"}, pressure, 1e6, Scale::Gauge);
        add({"Pa(abs)", "Pa (abs)"}, pressure, 1.0, Scale::Absolute);
        add({"kPa(abs)", "kPa (abs)"}, pressure, 1e3, Scale::Absolute);
        add({"bar(abs)", "bar (abs)"}, pressure, 1e5, Scale::Absolute);
        add({"MPa(abs)", "MPa (abs)"}, pressure, 1e6, Scale::Absolute);
        add({"kPa/min"}, pressure_rate, 1e3 / 60.0);
        add({"Pa/s"}, pressure_rate, 1.0);
        add({"kPa/h"}, pressure_rate, 1e3 / 3600.0);
        add({"1/Pa"}, dim(1, -1, 2), 1.0);
        add({"1/K"}, dim(0, 0, 0, -1), 1.0);
        add({"Pa/K"}, dim(-1, 1, -2, -1), 1.0);
        add({"kPa/K"}, dim(-1, 1, -2, -1), 1e3);
        add({"Pa s", "Pa·s"}, dim(-1, 1, -1), 1.0);
        add({"Pa s/kg", "Pa·s/kg"}, dim(-1, 0, -1), 1.0);
        add({"Pa m³/s", "Pa·m³/s", "Pa m3/s"}, power, 1.0);
        add({"N"}, force, 1.0);
        add({"kN"}, force, 1e3);
        add({"N·m", "N m", "Nm"}, energy, 1.0);
        add({"kN·m", "kN m"}, energy, 1e3);
        add({"J"}, energy, 1.0);
        add({"kJ"}, energy, 1e3);
        add({"MJ"}, energy, 1e6);
        add({"GJ"}, energy, 1e9);
        add({"kWh"}, energy, 3.6e6);
        add({"kWh/24 h", "kWh/24h", "kWh/d"}, power, 3.6e6 / 86400.0);
        add({"W"}, power, 1.0);
        add({"kW"}, power, 1e3);
        add({"W/m"}, dim(1, 1, -3), 1.0);
        add({"W/m²", "W/m2"}, dim(0, 1, -3), 1.0);
        add({"J/m²", "J/m2", "J/m² day", "J/m2 day"}, dim(0, 1, -2), 1.0);
        add({"MJ/m²", "MJ/m2"}, dim(0, 1, -2), 1e6);
        add({"kWh/m²", "kWh/m2"}, dim(0, 1, -2), 3.6e6);
        add({"W/K"}, dim(2, 1, -3, -1), 1.0);
        add({"W/(m K)", "W/(m·K)", "W/mK"}, dim(1, 1, -3, -1), 1.0);
        add({"W/(m² K)", "W/(m2 K)", "W/(m²·K)", "W/m²K", "W/m2K"}, dim(0, 1, -3, -1), 1.0);
        add({"W/(m² K²)", "W/(m2 K2)", "W/(m²·K²)", "W/m²K²", "W/m2K2"}, dim(0, 1, -3, -2), 1.0);
        add({"J/K"}, dim(2, 1, -2, -1), 1.0);
        add({"J/(kg K)", "J/(kg·K)", "J/kgK"}, dim(2, 0, -2, -1), 1.0);
        add({"kJ/(kg K)", "kJ/(kg·K)"}, dim(2, 0, -2, -1), 1e3);
        add({"kg/m³", "kg/m3"}, dim(-3, 1, 0), 1.0);
        add({"m³/kg", "m3/kg"}, dim(3, -1, 0), 1.0);
        add({"mg/L", "mg/l"}, dim(-3, 1, 0), 1e-3);
        add({"kg/m"}, dim(-1, 1, 0), 1.0);
        add({"L/m", "l/m"}, area, 1e-3);
        add({"kg/s"}, dim(0, 1, -1), 1.0);
        add({"kg/kWh"}, dim(-2, 0, 2), 1.0 / 3.6e6);
        add({"1/kWh"}, dim(-2, -1, 2), 1.0 / 3.6e6);
        add({"m³/s", "m3/s"}, dim(3, 0, -1), 1.0);
        add({"L/min", "l/min"}, dim(3, 0, -1), 1e-3 / 60.0);
        add({"L/d", "l/d"}, dim(3, 0, -1), 1e-3 / 86400.0);
        add({"mL/h", "ml/h"}, dim(3, 0, -1), 1e-6 / 3600.0);
        add({"m/s"}, dim(1, 0, -1), 1.0);
        add({"km/h"}, dim(1, 0, -1), 1.0 / 3.6);
        add({"mm/m"}, number, 1e-3);
        add({"°", "deg"}, angle, degree);
        add({"rad"}, angle, 1.0);
        add({"V"}, dim(2, 1, -3, 0, -1), 1.0);
        add({"mV"}, dim(2, 1, -3, 0, -1), 1e-3);
        add({"A"}, dim(0, 0, 0, 0, 1), 1.0);
        add({"mA"}, dim(0, 0, 0, 0, 1), 1e-3);
        add({"Ω", "Ohm", "ohm"}, dim(2, 1, -3, 0, -2), 1.0);
        add({"mΩ", "mOhm"}, dim(2, 1, -3, 0, -2), 1e-3);
        add({"kΩ", "kOhm"}, dim(2, 1, -3, 0, -2), 1e3);
        add({"MΩ", "MOhm"}, dim(2, 1, -3, 0, -2), 1e6);
        add({"Ω/km", "Ohm/km"}, dim(1, 1, -3, 0, -2), 1e-3);
        add({"nm"}, length, 1e-9);
        return s;
    }();
    return all;
}

}  // namespace

Dimension operator+(const Dimension& a, const Dimension& b) {
    Dimension sum;
    for (std::size_t i = 0; i < a.exponents.size(); ++i)
        sum.exponents[i] = static_cast<std::int8_t>(a.exponents[i] + b.exponents[i]);
    return sum;
}

Dimension operator-(const Dimension& a, const Dimension& b) {
    Dimension difference;
    for (std::size_t i = 0; i < a.exponents.size(); ++i)
        difference.exponents[i] = static_cast<std::int8_t>(a.exponents[i] - b.exponents[i]);
    return difference;
}

std::optional<Unit> unit_named(std::string_view text) {
    // U+2126 OHM SIGN and U+03A9 look the same on every keyboard and screen.
    std::string folded{text};
    for (std::size_t at; (at = folded.find("\xE2\x84\xA6")) != std::string::npos;)
        folded.replace(at, 3, "Ω");
    for (const auto& spelling : spellings())
        if (spelling.text == folded) return spelling.unit;
    return std::nullopt;
}

std::vector<UnitListed> all_units() {
    std::vector<UnitListed> all;
    for (const auto& spelling : spellings()) {
        if (spelling.unit.symbol.empty()) continue;
        if (spelling.text == spelling.unit.symbol) all.push_back({spelling.unit, {}});
        else all.back().also.push_back(spelling.text);
    }
    return all;
}

std::string units_like(const Unit& unit) {
    // A torque has the dimension of an energy, and nobody reads it in joules.
    const auto is_torque = [](std::string_view symbol) { return symbol.find("N·m") != std::string_view::npos; };
    std::string names;
    for (const auto& s : spellings()) {
        if (is_torque(s.text) != is_torque(unit.symbol) && s.unit.dimension == energy) continue;
        if (s.text != s.unit.symbol || s.unit.dimension != unit.dimension) continue;
        if (s.unit.scale != unit.scale || s.text.empty()) continue;
        if (!names.empty()) names += ", ";
        names += s.text;
    }
    return names.empty() ? "a bare number" : names;
}

std::string dimension_in_words(const Dimension& d, Scale scale) {
    if (d == kelvin) return scale == Scale::Point ? "a temperature" : "a temperature difference";
    const std::pair<Dimension, std::string_view> words[] = {
        {number, "a number"},       {length, "a length"},    {area, "an area"},
        {volume, "a volume"},       {mass, "a mass"},        {time, "a time"},
        {pressure, "a pressure"},   {force, "a force"},      {energy, "a torque or energy"},
        {power, "a power"},         {angle, "an angle"},     {dim(1, 0, -1), "a speed"},
        {dim(0, 1, -3), "an irradiance"}, {dim(0, 1, -2), "an irradiation"},
        {dim(2, 1, -3, 0, -1), "a voltage"}, {dim(0, 0, 0, 0, 1), "a current"},
        {dim(2, 1, -3, 0, -2), "a resistance"}, {dim(3, 0, -1), "a flow"},
        {dim(-3, 1, 0), "a density or concentration"}, {dim(2, 1, -3, -1), "a heat loss per kelvin"},
    };
    for (const auto& [dimension, word] : words)
        if (dimension == d) return std::string{word};
    static constexpr std::string_view bases[] = {"m", "kg", "s", "K", "A", "rad"};
    std::string text = "a quantity in";
    for (std::size_t i = 0; i < d.exponents.size(); ++i) {
        if (d.exponents[i] == 0) continue;
        text += " " + std::string{bases[i]};
        if (d.exponents[i] != 1) text += "^" + std::to_string(d.exponents[i]);
    }
    return text;
}

}  // namespace wm::units
