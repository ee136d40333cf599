// Moments with their zone, days and weeks, as texts that people and the journal use.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace wm::desk {

/// Wall time: milliseconds since 1970-01-01T00:00:00Z and the offset of the local clock.
struct Moment {
    std::int64_t wall_ms = 0;
    int zone_minutes = 0;  ///< east of UTC, -14 h to 14 h
};

/// "2027-03-04T09:10:00+02:00", also with Z and with fractions of a second; nullopt for any other
/// text and for a day that no calendar has.
[[nodiscard]] std::optional<Moment> read_moment(std::string_view text);
/// To the second, with offset ("+00:00" for UTC).
[[nodiscard]] std::string text_of(Moment moment);
/// The local day, "2027-03-04".
[[nodiscard]] std::string day_of(Moment moment);
/// The local day of a moment in text; the first ten letters where it is none.
[[nodiscard]] std::string day_of(std::string_view moment_text);

/// Days from one ISO day to another, negative if it lies before; nullopt if one is no day.
[[nodiscard]] std::optional<int> days_between(std::string_view from, std::string_view to);
[[nodiscard]] std::optional<std::string> day_after(std::string_view day, int days);

/// "2027-W09" of an ISO day, by ISO 8601: weeks begin on Monday, week 1 holds the first Thursday.
[[nodiscard]] std::optional<std::string> week_of(std::string_view day);
/// Whether the text is such a week, and the Monday it begins with.
[[nodiscard]] std::optional<std::string> monday_of(std::string_view week);

}  // namespace wm::desk
