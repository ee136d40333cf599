#include "desk/slips.hpp"

#include <fmt/format.h>

#include <cmath>

#include "units/reading.hpp"

namespace wm::desk {

namespace {

bool within(double value, const TypedNumber& number) {
    if (!number.low && !number.high) return false;
    return (!number.low || value >= *number.low) && (!number.high || value <= *number.high);
}

// With one limit only, a tenth of a fine value may be fine too; then the plausible range decides.
bool likely(double value, const TypedNumber& number) {
    if (!within(value, number)) return false;
    if (number.low && number.high) return true;
    return (!number.plausible_low || value >= *number.plausible_low) &&
           (!number.plausible_high || value <= *number.plausible_high);
}

// A reading a little outside loses a digit as easily as one inside.
bool nearly(double value, const TypedNumber& number) {
    constexpr double slack = 0.1;
    return number.low && number.high && value > 0.0 && value >= *number.low * (1.0 - slack) && value <= *number.high * (1.0 + slack);
}

bool is_digit(char sign) {
    return sign >= '0' && sign <= '9';
}

}  // namespace

bool may_part_thousands(std::string_view text) {
    const auto mark = text.find_first_of(".,");
    if (mark == std::string_view::npos || mark < 1 || mark > 3 || text.front() == '0') return false;
    for (const char sign : text.substr(0, mark))
        if (!is_digit(sign)) return false;
    std::size_t behind = 0;
    while (mark + 1 + behind < text.size() && is_digit(text[mark + 1 + behind])) ++behind;
    return behind == 3;
}

std::vector<std::string> slips_in(const TypedNumber& number) {
    std::vector<std::string> warnings;
    if (within(number.value, number) || number.value == 0.0) return warnings;
    std::optional<double> named;
    for (std::size_t at = 1; at < number.text.size(); ++at) {
        if (number.text[at] != number.text[at - 1] || number.text[at] < '0' || number.text[at] > '9') continue;
        std::string single{number.text};
        single.erase(at, 1);
        const auto value = units::read_number(single);
        if (!value || !likely(*value, number)) continue;
        named = *value;
        warnings.push_back(fmt::format("Look again: did a key stick? {} would fit, {} does not.", single,
                                       number.text));
        break;
    }
    for (const double factor : {10.0, 0.1}) {
        const double value = number.value * factor;
        // A second sentence with the same number would only blur the first.
        if (named && std::abs(*named - value) <= 1e-9 * std::abs(value)) continue;
        if (!likely(value, number)) {
            if (nearly(value, number))
                warnings.push_back(fmt::format("Look again: {} would be near what is asked, {} is not. Was a digit lost or added?",
                                               units::print_short(value), units::print_short(number.value)));
            continue;
        }
        warnings.push_back(fmt::format("Look again: {} would fit, {} does not. Is the decimal point in its place?",
                                       units::print_short(value), units::print_short(number.value)));
    }
    // A lost or added digit leads elsewhere than ten times too far; no fault of a plant does so easily.
    constexpr double far = 3.0;
    const bool too_small = number.low && number.high && number.value < *number.low / far;
    const bool too_large = number.low && number.high && *number.high > 0.0 && number.value > *number.high * far;
    if (warnings.empty() && number.value > 0.0 && (too_small || too_large))
        warnings.push_back(fmt::format("Look again: {} lies far outside {} to {}. Was a digit lost or added?",
                                       units::print_short(number.value), units::print_short(*number.low),
                                       units::print_short(*number.high)));
    return warnings;
}

}  // namespace wm::desk
