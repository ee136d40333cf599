#include "instruments/lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <vector>

namespace wm::instruments {

namespace {

bool is_digit(char sign) { return sign >= '0' && sign <= '9'; }
bool is_blank(char sign) { return sign == ' ' || sign == '\t'; }
bool is_of_serial(char sign) {
    return is_digit(sign) || (sign >= 'A' && sign <= 'Z') || (sign >= 'a' && sign <= 'z') || sign == '-' || sign == '_' || sign == '.' || sign == '/';
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
    return text;
}

std::size_t digits_from(std::string_view text, std::size_t at) {
    std::size_t end = at;
    while (end < text.size() && is_digit(text[end])) ++end;
    return end - at;
}

/// The signs of a number at the beginning: sign, digits with one point or comma, exponent.
std::size_t number_length(std::string_view text) {
    std::size_t at = !text.empty() && (text[0] == '+' || text[0] == '-') ? 1 : 0;
    const std::size_t whole = digits_from(text, at);
    at += whole;
    std::size_t part = 0;
    if (at < text.size() && (text[at] == '.' || text[at] == ',')) {
        part = digits_from(text, at + 1);
        if (part > 0 || whole > 0) at += 1 + part;
    }
    if (whole + part == 0) return 0;
    if (at < text.size() && (text[at] == 'E' || text[at] == 'e')) {
        std::size_t exponent = at + 1;
        if (exponent < text.size() && (text[exponent] == '+' || text[exponent] == '-')) ++exponent;
        const std::size_t digits = digits_from(text, exponent);
        if (digits == 1 || digits == 2) at = exponent + digits;
    }
    return at;
}

/// How many signs of the line the pattern takes from `at` on, and what stands in its place; nothing if it does not fit.
std::optional<std::string> fits_at(std::string_view line, std::size_t at, std::string_view pattern) {
    std::string found;
    while (!pattern.empty()) {
        if (pattern.starts_with("{value}") || pattern.starts_with("{serial}")) {
            const bool is_value = pattern.starts_with("{value}");
            std::size_t length = 0;
            // Devices that right-align pad with blanks.
            while (at < line.size() && is_blank(line[at])) ++at;
            if (is_value) length = number_length(line.substr(at));
            else
                while (at + length < line.size() && is_of_serial(line[at + length])) ++length;
            if (length == 0) return std::nullopt;
            found = line.substr(at, length);
            at += length;
            pattern.remove_prefix(pattern.find('}') + 1);
        } else if (is_blank(pattern.front())) {
            if (at >= line.size() || !is_blank(line[at])) return std::nullopt;
            while (at < line.size() && is_blank(line[at])) ++at;
            while (!pattern.empty() && is_blank(pattern.front())) pattern.remove_prefix(1);
        } else {
            if (at >= line.size() || line[at] != pattern.front()) return std::nullopt;
            ++at;
            pattern.remove_prefix(1);
        }
    }
    return trimmed(line.substr(at)).empty() ? std::optional{found} : std::nullopt;
}

}  // namespace

std::optional<double> sent_number(std::string_view text) {
    text = trimmed(text);
    if (text.empty() || number_length(text) != text.size()) return std::nullopt;
    std::string plain{text.front() == '+' ? text.substr(1) : text};
    for (char& sign : plain)
        if (sign == ',') sign = '.';
    double value = 0.0;
    const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), value);
    if (error != std::errc{} || end != plain.data() + plain.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

Answer<double> scpi_number(std::string_view line, const std::string& where) {
    const auto number = trimmed(line).find(',') == std::string_view::npos ? sent_number(line) : std::nullopt;
    if (!number)
        return no_answer(fmt::format("The instrument answered \"{}\", which is no number.", shown_bytes(line)), where,
                         "Compare the query of the profile with the instrument's papers.", Again::Yes);
    if (std::abs(*number) >= 9.9e37)
        return no_answer("The instrument has no reading: it says that it is beyond its range or that nothing is connected.", where,
                         "Look at its probe and its range.", Again::No);
    return *number;
}

Answer<std::string> scpi_serial(std::string_view line, const std::string& where) {
    std::vector<std::string_view> fields;
    for (std::size_t from = 0; from <= line.size();) {
        const auto comma = std::min(line.find(',', from), line.size());
        fields.push_back(trimmed(line.substr(from, comma - from)));
        from = comma + 1;
    }
    const bool is_sound = fields.size() == 4 && std::all_of(fields[2].begin(), fields[2].end(), [](char sign) { return sign >= ' ' && sign <= '~'; });
    if (!is_sound)
        return no_answer(fmt::format("The instrument answered \"{}\" when asked who it is.", shown_bytes(line)), where,
                         "If it does not know *IDN?, write identity = \"\" into its profile and name it by --instrument.", Again::Yes);
    return std::string{fields[2] == "0" ? std::string_view{} : fields[2]};
}

Answer<void> scpi_error(std::string_view line, const std::string& where) {
    const auto code = sent_number(line.substr(0, std::min(line.find(','), line.size())));
    if (!code)
        return no_answer(fmt::format("The instrument answered \"{}\" when asked for its errors.", shown_bytes(line)), where,
                         "If it keeps no list of errors, write errors = \"\" into its profile.", Again::Yes);
    if (*code != 0.0)
        return no_answer(fmt::format("The instrument reports an error: {}.", shown_bytes(trimmed(line))), where,
                         "Look it up in the instrument's papers; the reading is not kept.", Again::No);
    return {};
}

std::optional<std::string> found_in(std::string_view line, std::string_view pattern) {
    const bool is_anchored = pattern.starts_with('{') || pattern.empty() || is_blank(pattern.front());
    if (is_anchored) return fits_at(line, 0, pattern);
    for (std::size_t at = 0; at < line.size(); ++at)
        if (auto found = fits_at(line, at, pattern)) return found;
    return std::nullopt;
}

std::string shown_bytes(std::string_view bytes) {
    std::string shown;
    for (const char byte : bytes.substr(0, 60)) {
        if (byte >= ' ' && byte <= '~') shown += byte;
        else shown += fmt::format("\\x{:02x}", static_cast<unsigned char>(byte));
    }
    return bytes.size() > 60 ? shown + "…" : shown;
}

}  // namespace wm::instruments
