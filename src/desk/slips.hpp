// Warnings about slips of the finger, before a number is saved.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace wm::desk {

/// What is known of the number that is being typed, in one unit.
struct TypedNumber {
    std::string_view text;       ///< the digits as typed, without unit
    double value = 0.0;
    std::optional<double> low;   ///< of the tolerance
    std::optional<double> high;
    std::optional<double> plausible_low;
    std::optional<double> plausible_high;
};

/// "4,600" and "4.600": one mark with one to three digits before it, no leading zero, and exactly three behind it can
/// be a decimal mark or part the thousands. Nothing behind the digits is looked at.
[[nodiscard]] bool may_part_thousands(std::string_view text);

/// Sentences, empty if nothing looks like a slip: a value that would lie within the tolerance if it
/// were ten times larger or smaller, one that would if a doubled digit were single, and one three times beyond a
/// two-sided tolerance. A value that lies within the tolerance is never asked about.
[[nodiscard]] std::vector<std::string> slips_in(const TypedNumber& number);

}  // namespace wm::desk
