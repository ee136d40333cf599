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
    std::optional<double> usual;  ///< what is likely here, see usual_reading
    std::optional<int> decimals;  ///< at most so many digits behind the mark are read here
};

/// "4,600" and "4.600": one mark with one to three digits before it, no leading zero, and exactly three behind it can
/// be a decimal mark or part the thousands. Nothing behind the digits is looked at.
[[nodiscard]] bool may_part_thousands(std::string_view text);

/// Sentences, empty if nothing looks like a slip. Asked about is a value outside the tolerance that would lie within it if
/// it were ten times larger or smaller, or if a doubled digit were single, or that lies far off what is likely; within the
/// tolerance too, a value of which one key missed, doubled or added makes one that is likely and five times off; and what
/// nobody writes ("005", "0."). Likely is what lies within two limits that are near each other, else what is usual.
[[nodiscard]] std::vector<std::string> slips_in(const TypedNumber& number);

}  // namespace wm::desk
