// Small words for messages.
#include "checklist/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "units/reading.hpp"

namespace wm::checklist {
namespace {

constexpr std::size_t longest_name = 64;

// Letters to add, drop, change or swap with their neighbour to make one word the other.
std::size_t distance(std::string_view a, std::string_view b) {
    std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
    for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = i;
    for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t change = a[i - 1] == b[j - 1] ? 0 : 1;
            d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + change});
            const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if (swapped) d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
        }
    }
    return d[a.size()][b.size()];
}

}  // namespace

std::optional<std::string> nearest(std::string_view word,
                                   const std::vector<std::string>& candidates) {
    if (word.empty() || word.size() > longest_name) return std::nullopt;
    const std::size_t allowed = std::max<std::size_t>(1, word.size() / 3);
    std::optional<std::string> best;
    std::size_t least = allowed + 1;
    for (const auto& candidate : candidates) {
        if (candidate.size() > longest_name) continue;
        const auto differs = distance(lower_case(word), lower_case(candidate));
        if (differs >= least) continue;
        best = candidate;
        least = differs;
    }
    return best;
}

std::string listed(const std::vector<std::string>& items, std::string_view joint) {
    std::string text;
    for (std::size_t i = 0; i < items.size(); ++i) {
        if (i > 0) text += i + 1 == items.size() ? fmt::format(" {} ", joint) : std::string{", "};
        text += items[i];
    }
    return text;
}

std::string quoted(const std::vector<std::string>& items, std::string_view joint) {
    std::vector<std::string> in_quotes;
    in_quotes.reserve(items.size());
    for (const auto& item : items) in_quotes.push_back('"' + item + '"');
    return listed(in_quotes, joint);
}

std::string amount_text(const units::Amount& amount, const units::Unit& unit,
                        std::optional<int> decimals) {
    const double value = amount.in(unit);
    if (decimals) {
        const double shown = std::round(value * std::pow(10.0, *decimals));
        const bool exact = std::abs(value * std::pow(10.0, *decimals) - shown) < 1e-6;
        if (exact) return units::print_amount(value, *decimals, unit);
    }
    constexpr int significant = 4;
    const double magnitude =
        std::abs(value) < 1e-300 ? 0.0 : std::floor(std::log10(std::abs(value)));
    const int digits = std::clamp(significant - 1 - static_cast<int>(magnitude), 0, 6);
    const double factor = std::pow(10.0, digits);
    const double rounded = std::round(value * factor) / factor;
    return units::print_amount(units::Amount::of(rounded, unit), 12, unit);
}

std::string uncertainty_text(const units::Amount& uncertainty, const units::Unit& unit) {
    const double value = uncertainty.in(unit);
    if (!(value > 0.0)) return amount_text(uncertainty, unit);
    const double place = std::pow(10.0, std::floor(std::log10(value)) - 1.0);
    return units::print_amount(units::Amount::of(std::round(value / place) * place, unit), 12, unit);
}

std::string range_text(const std::optional<units::Amount>& low,
                       const std::optional<units::Amount>& high, const units::Unit& unit,
                       std::optional<int> decimals) {
    if (low && high) {
        const auto upper = amount_text(*high, unit, decimals);
        const auto lower = amount_text(*low, unit, decimals);
        if (lower == upper) return "exactly " + upper;
        const std::string symbol{unit.symbol};
        std::string bare = lower;
        if (!symbol.empty() && bare.ends_with(symbol)) {
            bare.resize(bare.size() - symbol.size());
            while (bare.ends_with(' ')) bare.pop_back();
            while (bare.ends_with("\xC2\xA0")) bare.resize(bare.size() - 2);
        }
        return fmt::format("{} to {}", bare, upper);
    }
    if (low) return "at least " + amount_text(*low, unit, decimals);
    if (high) return "at most " + amount_text(*high, unit, decimals);
    return "any value";
}

std::string_view trimmed(std::string_view text) {
    const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; };
    while (!text.empty() && blank(text.front())) text.remove_prefix(1);
    while (!text.empty() && blank(text.back())) text.remove_suffix(1);
    return text;
}

std::vector<std::string_view> split_at(std::string_view text, char separator) {
    std::vector<std::string_view> parts;
    for (;;) {
        const auto at = text.find(separator);
        const auto part = trimmed(text.substr(0, at));
        if (at == std::string_view::npos) {
            if (!part.empty() || parts.empty()) parts.push_back(part);
            return parts;
        }
        parts.push_back(part);
        text.remove_prefix(at + 1);
    }
}

std::string lower_case(std::string_view text) {
    std::string lower{text};
    for (char& c : lower)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return lower;
}

}  // namespace wm::checklist
