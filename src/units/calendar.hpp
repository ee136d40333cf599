// Days of the calendar and ISO weeks, as the texts the journal keeps.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace wm::units {

/// Days from one ISO day ("2027-03-04") to another, negative if it lies before; nullopt if one is
/// no day of the Gregorian calendar.
[[nodiscard]] std::optional<int> days_between(std::string_view from, std::string_view to);
[[nodiscard]] std::optional<std::string> day_after(std::string_view day, int days);
/// Days since 1970-01-01 and back.
[[nodiscard]] std::optional<int> day_number(std::string_view day);
[[nodiscard]] std::string day_of_number(int number);

/// "2027-W09" of an ISO day, by ISO 8601: weeks begin on Monday, week 1 holds the first Thursday.
[[nodiscard]] std::optional<std::string> week_of(std::string_view day);
/// Whether the text is such a week, and the Monday it begins with.
[[nodiscard]] std::optional<std::string> monday_of(std::string_view week);

}  // namespace wm::units
