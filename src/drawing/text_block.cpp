#include "drawing/text_block.hpp"

#include <algorithm>
#include <iterator>

#include "drawing/typeface.hpp"

namespace wm::drawing {

namespace {

constexpr std::string_view units[] = {
    "°C",  "°",  "%",  "kPa", "bar", "mm", "m",   "L",     "kg",   "N·m", "W",     "kW",   "V",
    "A",   "K",  "Ω",  "MΩ",  "ms",  "s",  "min", "h",     "mm/m", "kN",  "mg/L",  "W/m²", "W/K",
    "kWh", "m²", "mA", "d",   "psi", "mL", "MPa", "MJ/m²", "cm",   "Hz",  "L/min", "m/s",  "m³"};

/// True for a unit, also with a comma, full stop or bracket behind it.
bool begins_with_unit(std::string_view word) {
    while (!word.empty() &&
           std::string_view{".,;:)!?"}.find(word.back()) != std::string_view::npos) {
        word.remove_suffix(1);
    }
    return std::find(std::begin(units), std::end(units), word) != std::end(units);
}

bool ends_with_digit(std::string_view word) {
    return !word.empty() && word.back() >= '0' && word.back() <= '9';
}

std::vector<std::string> joined_to_units(std::vector<std::string> words) {
    std::vector<std::string> joined;
    for (std::string& word : words) {
        if (!joined.empty() && ends_with_digit(joined.back()) && begins_with_unit(word)) {
            joined.back() += ' ' + word;
        } else {
            joined.push_back(std::move(word));
        }
    }
    return joined;
}

std::vector<std::string> words_of(std::string_view paragraph) {
    std::vector<std::string> words;
    std::string word;
    for (const char c : paragraph) {
        const bool gap = static_cast<unsigned char>(c) <= 0x20 || c == 0x7f;
        if (!gap) {
            word += c;
        } else if (!word.empty()) {
            words.push_back(std::move(word));
            word.clear();
        }
    }
    if (!word.empty()) words.push_back(std::move(word));
    return joined_to_units(std::move(words));
}

/// The longest start of `word` that fits, at least one letter.
std::size_t fitting_bytes(const Canvas& measure, std::string_view word, const TextStyle& style,
                          double width_mm) {
    std::size_t fits = 0;
    for (std::size_t at = 0; at < word.size();) {
        (void)next_code_point(word, at);
        if (fits != 0 && measure.text_width(word.substr(0, at), style) > width_mm) break;
        fits = at;
    }
    return fits;
}

void wrap_paragraph(const Canvas& measure, std::string_view paragraph, const TextStyle& style,
                    double width_mm, std::vector<std::string>& lines) {
    std::string line;
    const auto finish = [&] {
        if (!line.empty()) lines.push_back(std::move(line));
        line.clear();
    };
    for (std::string& word : words_of(paragraph)) {
        const std::string longer = line.empty() ? word : line + ' ' + word;
        if (measure.text_width(longer, style) <= width_mm) {
            line = longer;
            continue;
        }
        finish();
        while (measure.text_width(word, style) > width_mm) {
            const std::size_t cut = fitting_bytes(measure, word, style, width_mm);
            if (cut >= word.size()) break;
            lines.push_back(word.substr(0, cut));
            word.erase(0, cut);
        }
        line = word;
    }
    finish();
}

}  // namespace

std::vector<std::string> wrapped(const Canvas& measure, std::string_view words,
                                 const TextStyle& style, double width_mm) {
    std::vector<std::string> lines;
    while (!words.empty()) {
        const std::size_t end = words.find('\n');
        wrap_paragraph(measure, words.substr(0, end), style, width_mm, lines);
        if (end == std::string_view::npos) break;
        words.remove_prefix(end + 1);
    }
    return lines;
}

double draw_lines(Canvas& on, Point at, const std::vector<std::string>& lines,
                  const TextStyle& style) {
    for (const std::string& line : lines) {
        on.text(at, line, style);
        at.y += leading_mm(style);
    }
    return at.y;
}

std::string fitted(const Canvas& measure, std::string_view words, const TextStyle& style,
                   double width_mm) {
    if (measure.text_width(words, style) <= width_mm) return std::string{words};
    const double dots = measure.text_width("…", style);
    const std::size_t cut = fitting_bytes(measure, words, style, width_mm - dots);
    return std::string{words.substr(0, cut)} + "…";
}

}  // namespace wm::drawing
