#include "units/reading.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

namespace wm::units {

namespace {

std::string_view trimmed(std::string_view text) {
    const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; };
    while (!text.empty() && blank(text.front())) text.remove_prefix(1);
    while (!text.empty() && blank(text.back())) text.remove_suffix(1);
    // U+00A0 no-break space, which other programs put between number and unit.
    while (text.starts_with("\xC2\xA0")) text.remove_prefix(2);
    while (text.ends_with("\xC2\xA0")) text.remove_suffix(2);
    return text;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// Length in bytes of the number that `text` starts with; 0 if it starts with none.
std::size_t number_length(std::string_view text) {
    std::size_t at = 0;
    if (text.starts_with("\xE2\x88\x92")) at = 3;
    else if (!text.empty() && (text[0] == '-' || text[0] == '+')) at = 1;
    const std::size_t first = at;
    bool digit = false;
    while (at < text.size() && (is_digit(text[at]) || text[at] == '.' || text[at] == ',')) {
        digit = digit || is_digit(text[at]);
        ++at;
    }
    if (!digit) return 0;
    if (at < text.size() && (text[at] == 'e' || text[at] == 'E')) {
        std::size_t exponent = at + 1;
        if (exponent < text.size() && (text[exponent] == '-' || text[exponent] == '+')) ++exponent;
        if (exponent < text.size() && is_digit(text[exponent])) {
            at = exponent;
            while (at < text.size() && is_digit(text[at])) ++at;
        }
    }
    return at > first ? at : 0;
}

Problem not_a_number(std::string_view text) {
    return {fmt::format("\"{}\" is not a number.", text), "the number",
            "Write digits with one decimal point or comma, for example 23.5; no thousands separator.",
            ProblemKind::Unreadable};
}

struct Split {
    double value;
    int decimals;
    std::string_view unit;
};

Result<Split> split(std::string_view text) {
    const auto clean = trimmed(text);
    const std::size_t length = number_length(clean);
    if (length == 0) return refused(not_a_number(clean));
    const auto number = clean.substr(0, length);
    const auto value = read_number(number);
    if (!value) return tl::unexpected(value.error());
    int decimals = 0;
    const auto mark = number.find_first_of(".,");
    if (mark != std::string_view::npos)
        for (auto at = mark + 1; at < number.size() && is_digit(number[at]); ++at) ++decimals;
    return Split{*value, decimals, trimmed(clean.substr(length))};
}

}  // namespace

Result<double> read_number(std::string_view text) {
    const auto clean = trimmed(text);
    if (clean.empty() || number_length(clean) != clean.size()) return refused(not_a_number(clean));
    std::string plain;
    std::string_view rest = clean;
    if (rest.starts_with("\xE2\x88\x92")) {
        plain = "-";
        rest.remove_prefix(3);
    } else if (rest.front() == '+') {
        rest.remove_prefix(1);
    }
    int marks = 0;
    for (const char c : rest) {
        if (c == ',' || c == '.') ++marks;
        plain += c == ',' ? '.' : c;
    }
    if (marks > 1) return refused(not_a_number(clean));
    double value = 0.0;
    const auto [end, problem] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
    if (problem != std::errc{} || end != plain.data() + plain.size() || !std::isfinite(value))
        return refused(not_a_number(clean));
    return value;
}

namespace {

/// 1e308 years are more seconds than a number can hold.
Result<Entered> in_reach(Entered entered, std::string_view where) {
    if (std::isfinite(entered.amount().si)) return entered;
    return refused({fmt::format("\"{}\" is too large a number.", entered.text), std::string{where}, "Type the number again.",
                    ProblemKind::Unreadable});
}

}  // namespace

Result<Entered> read_amount(std::string_view text, const Unit& expected, std::string_view where) {
    auto parts = split(text);
    if (!parts) {
        parts.error().where = where;
        return tl::unexpected(parts.error());
    }
    if (parts->unit.empty()) return in_reach({std::string{text}, parts->value, expected, parts->decimals}, where);
    const auto unit = unit_named(parts->unit);
    if (!unit)
        return refused({fmt::format("\"{}\" is not a unit this tool knows.", parts->unit),
                        std::string{where}, fmt::format("Use {}.", units_like(expected)),
                        ProblemKind::Unreadable});
    const bool point_differs = (unit->scale == Scale::Point) != (expected.scale == Scale::Point);
    const bool side_differs = (unit->scale == Scale::Absolute) != (expected.scale == Scale::Absolute) &&
                              unit->scale != Scale::Plain && expected.scale != Scale::Plain;
    if (unit->dimension != expected.dimension || point_differs || side_differs)
        return refused(
            {fmt::format("\"{}\" is {}, but {} is wanted here.", trimmed(text),
                         dimension_in_words(unit->dimension, unit->scale),
                         dimension_in_words(expected.dimension, expected.scale)),
             std::string{where}, fmt::format("Use {}.", units_like(expected)), ProblemKind::Unreadable});
    return in_reach({std::string{text}, parts->value, *unit, parts->decimals}, where);
}

Result<Entered> read_any_amount(std::string_view text, std::string_view where) {
    auto parts = split(text);
    if (!parts) {
        parts.error().where = where;
        return tl::unexpected(parts.error());
    }
    const auto unit = unit_named(parts->unit);
    if (!unit)
        return refused({fmt::format("\"{}\" is not a unit this tool knows.", parts->unit),
                        std::string{where}, "Use a unit of the list in the guide, for example kPa or °C.",
                        ProblemKind::Unreadable});
    return in_reach({std::string{text}, parts->value, *unit, parts->decimals}, where);
}

std::string print_number(double value, int decimals, DecimalMark mark) {
    std::string text = fmt::format("{:.{}f}", value, decimals < 0 ? 0 : decimals);
    if (text.find_first_not_of("-0.") == std::string::npos && text.front() == '-') text.erase(0, 1);
    if (mark == DecimalMark::Comma)
        if (const auto at = text.find('.'); at != std::string::npos) text[at] = ',';
    return text;
}

std::string print_short(double value, int significant, DecimalMark mark) {
    if (value == 0.0) return "0";
    std::string text;
    const double size = std::abs(value);
    if (size >= 1e-4 && size < 1e9) {
        const int before = static_cast<int>(std::floor(std::log10(size))) + 1;
        const int decimals = significant - before;
        text = fmt::format("{:.{}f}", value, decimals > 0 ? decimals : 0);
        if (text.find('.') != std::string::npos) {
            text.erase(text.find_last_not_of('0') + 1);
            if (text.back() == '.') text.pop_back();
        }
        if (text == "-0") text = "0";
    } else {
        text = fmt::format("{:.{}g}", value, significant);
    }
    if (mark == DecimalMark::Comma)
        if (const auto at = text.find('.'); at != std::string::npos) text[at] = ',';
    return text;
}

namespace {
std::string with_unit(std::string number, const Unit& unit) {
    if (unit.symbol.empty()) return number;
    if (unit.symbol == "°") return number + "°";
    return number + " " + std::string{unit.symbol};
}
}  // namespace

std::string print_amount(double value, int decimals, const Unit& unit, DecimalMark mark) {
    return with_unit(print_number(value, decimals, mark), unit);
}

std::string print_amount(const Amount& amount, int significant, const Unit& unit, DecimalMark mark) {
    return with_unit(print_short(amount.in(unit), significant, mark), unit);
}

}  // namespace wm::units
