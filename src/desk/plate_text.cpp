#include "desk/plate_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <optional>
#include <utility>
#include <vector>

#include "units/calendar.hpp"

namespace wm::desk {

namespace {

using Element = std::pair<std::string, std::string>;  // application identifier and value

constexpr char group_separator = '\x1d';
constexpr std::size_t longest_free = 20;  // of serial number and batch

tl::unexpected<Problem> unreadable(std::string what) {
    return refused({std::move(what), "the code on the plate", "Read what stands on the plate and type it.", ProblemKind::Unreadable});
}

bool is_digits(std::string_view text) {
    return !text.empty() && std::all_of(text.begin(), text.end(), [](unsigned char c) { return std::isdigit(c) != 0; });
}

/// Elements whose length follows from their first two digits, those digits included; no separator follows them.
/// Source: GS1 General Specifications, element strings of predefined length (from memory).
std::optional<std::size_t> set_length(std::string_view two) {
    constexpr std::array<std::pair<std::string_view, std::size_t>, 7> single = {
        {{"00", 20}, {"01", 16}, {"02", 16}, {"03", 16}, {"04", 18}, {"20", 4}, {"41", 16}}};
    for (const auto& [prefix, length] : single)
        if (prefix == two) return length;
    if (two >= "11" && two <= "19") return 8;
    if (two >= "31" && two <= "36") return 10;
    return std::nullopt;
}

Result<std::vector<Element>> marked_elements(std::string_view text) {
    std::vector<Element> elements;
    while (!text.empty()) {
        if (text.front() == group_separator) {
            text.remove_prefix(1);
            continue;
        }
        if (text.size() < 3 || !is_digits(text.substr(0, 2))) return unreadable("The code is no row of elements.");
        const auto two = text.substr(0, 2);
        const auto length = set_length(two);
        if (length && text.size() < *length) return unreadable("The code is cut off.");
        const auto end = length ? *length : std::min(text.find(group_separator), text.size());
        elements.emplace_back(std::string{two}, std::string{text.substr(2, end - 2)});
        text.remove_prefix(end);
    }
    return elements;
}

Result<std::vector<Element>> bracketed_elements(std::string_view text) {
    std::vector<Element> elements;
    while (!text.empty()) {
        const auto close = text.find(')');
        if (text.front() != '(' || close == std::string_view::npos || !is_digits(text.substr(1, close - 1)))
            return unreadable("The code is no row of elements.");
        const auto next = std::min(text.find('(', close), text.size());
        elements.emplace_back(std::string{text.substr(1, close - 1)}, std::string{text.substr(close + 1, next - close - 1)});
        text.remove_prefix(next);
    }
    return elements;
}

int hex_of(char c) { return c >= '0' && c <= '9' ? c - '0' : c >= 'A' && c <= 'F' ? c - 'A' + 10 : c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1; }

std::string without_percent(std::string_view text) {
    std::string plain;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const int high = text[i] == '%' && i + 2 < text.size() ? hex_of(text[i + 1]) : -1;
        const int low = high < 0 ? -1 : hex_of(text[i + 2]);
        if (low < 0) {
            plain += text[i];
        } else {
            plain += static_cast<char>(high * 16 + low);
            i += 2;
        }
    }
    return plain;
}

std::vector<std::string> parted(std::string_view text, char by) {
    std::vector<std::string> parts;
    for (std::size_t from = 0; from <= text.size();) {
        const auto at = std::min(text.find(by, from), text.size());
        parts.emplace_back(text.substr(from, at - from));
        from = at + 1;
    }
    return parts;
}

/// Nothing for a web address that names no article.
std::optional<std::vector<Element>> elements_of_address(std::string_view text) {
    const auto ask = std::min(text.find('?'), text.size());
    const auto path = parted(text.substr(0, ask), '/');
    const auto article = std::find(path.begin(), path.end(), "01");
    if (article == path.end()) return std::nullopt;
    std::vector<Element> elements;
    for (auto at = article; at != path.end() && at + 1 != path.end(); at += 2) elements.emplace_back(*at, without_percent(*(at + 1)));
    if (ask < text.size())
        for (const auto& pair : parted(text.substr(ask + 1), '&'))
            if (const auto equals = pair.find('='); equals != std::string::npos && is_digits(std::string_view{pair}.substr(0, equals)))
                elements.emplace_back(pair.substr(0, equals), without_percent(std::string_view{pair}.substr(equals + 1)));
    return elements;
}

/// "270331"; 00 as the day stands for the last of the month (the same, dates).
std::optional<std::string> day_of_six(const std::string& six) {
    if (six.size() != 6 || !is_digits(six)) return std::nullopt;
    const std::string month = fmt::format("20{}-{}-", six.substr(0, 2), six.substr(2, 2));
    const auto is_day = [](const std::string& day) { return units::days_between(day, day).has_value(); };
    if (six.substr(4) != "00") return is_day(month + six.substr(4)) ? std::optional{month + six.substr(4)} : std::nullopt;
    for (const char* last : {"31", "30", "29", "28"})
        if (is_day(month + last)) return month + last;
    return std::nullopt;
}

Result<PlateText> said_by(const std::vector<Element>& elements) {
    PlateText plate;
    for (const auto& [identifier, value] : elements) {
        if (identifier == "01") {
            // An address may leave the leading noughts out.
            plate.article = value.size() < 14 ? std::string(14 - value.size(), '0') + value : value;
            if (plate.article.size() != 14 || !check_digit_fits(plate.article))
                return unreadable(fmt::format("The check digit of the article number {} does not fit.", value));
        } else if (identifier == "10" || identifier == "21") {
            if (value.empty() || value.size() > longest_free) return unreadable(fmt::format("\"{}\" is no {}.", value, identifier == "10" ? "batch" : "serial number"));
            (identifier == "10" ? plate.batch : plate.serial) = value;
        } else if (identifier == "17") {
            const auto day = day_of_six(value);
            if (!day) return unreadable(fmt::format("\"{}\" is no day.", value));
            plate.until = *day;
        }
    }
    return plate;
}

}  // namespace

bool check_digit_fits(std::string_view digits) {
    if (digits.size() < 2 || !is_digits(digits)) return false;
    int sum = 0;
    for (std::size_t i = 0; i + 1 < digits.size(); ++i) sum += (digits[digits.size() - 2 - i] - '0') * (i % 2 == 0 ? 3 : 1);
    return (10 - sum % 10) % 10 == digits.back() - '0';
}

Result<PlateText> read_plate_text(std::string_view text, bool is_marked) {
    if (text.empty()) return unreadable("The code is empty.");
    if (text.starts_with("https://") || text.starts_with("http://")) {
        if (const auto elements = elements_of_address(text)) return said_by(*elements);
        return unreadable("The code is a web address that names no article.");
    }
    if (!is_marked && !text.starts_with("(01)")) return PlateText{.article = {}, .serial = {}, .batch = {}, .until = {}, .plain = std::string{text}};
    const auto elements = text.front() == '(' ? bracketed_elements(text) : marked_elements(text);
    if (!elements) return tl::unexpected(elements.error());
    return said_by(*elements);
}

}  // namespace wm::desk
