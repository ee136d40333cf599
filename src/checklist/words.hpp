// Small words for messages: the nearest name, lists, amounts and ranges in plain text.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "units/unit.hpp"

namespace wm::checklist {

/// The candidate that differs least from `word`, if it differs by a third of its letters at most.
[[nodiscard]] std::optional<std::string> nearest(std::string_view word,
                                                 const std::vector<std::string>& candidates);

/// "a", "a and b", "a, b and c".
[[nodiscard]] std::string listed(const std::vector<std::string>& items,
                                 std::string_view joint = "and");

/// The same, each in double quotes.
[[nodiscard]] std::string quoted(const std::vector<std::string>& items,
                                 std::string_view joint = "or");

/// "480 kPa", with as many digits as tell it apart, four significant ones at most unless the whole
/// part has more; a decimal count from the checklist wins.
[[nodiscard]] std::string amount_text(const units::Amount& amount, const units::Unit& unit,
                                      std::optional<int> decimals = std::nullopt);

/// An uncertainty with two significant digits. Source: JCGM 100:2008, 7.2.6.
[[nodiscard]] std::string uncertainty_text(const units::Amount& uncertainty, const units::Unit& unit);

/// "18 to 22 N·m", "at least 5 mm", "at most 10 %".
[[nodiscard]] std::string range_text(const std::optional<units::Amount>& low,
                                     const std::optional<units::Amount>& high,
                                     const units::Unit& unit,
                                     std::optional<int> decimals = std::nullopt);

/// Without blanks at both ends.
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// The parts between the separators, each trimmed; an empty last part is dropped.
[[nodiscard]] std::vector<std::string_view> split_at(std::string_view text, char separator);

/// ASCII letters in lower case, the rest as it is.
[[nodiscard]] std::string lower_case(std::string_view text);

}  // namespace wm::checklist
