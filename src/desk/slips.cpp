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

}  // namespace

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
        if (!likely(value, number) || (named && std::abs(*named - value) <= 1e-9 * std::abs(value))) continue;
        warnings.push_back(fmt::format("Look again: {} would fit, {} does not. Is the decimal point in its place?",
                                       units::print_short(value), units::print_short(number.value)));
    }
    return warnings;
}

}  // namespace wm::desk
