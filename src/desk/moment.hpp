// Moments with their zone, days and weeks, as texts that people and the journal use.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "units/calendar.hpp"

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
/// A stamp of the journal (UTC, with its counter) as a local time; the stamp itself where it is none.
[[nodiscard]] std::string local_text(std::string_view stamp, int zone_minutes);
/// A moment in text as the report prints it, "2027-03-04 09:10 +02:00": crew and office may be in other zones, and one that is
/// served again is read after the summer. A text that is no moment as it is.
[[nodiscard]] std::string printed_text(std::string_view moment_text);
/// The local day, "2027-03-04".
[[nodiscard]] std::string day_of(Moment moment);
/// The local day of a moment in text; the first ten letters where it is none.
[[nodiscard]] std::string day_of(std::string_view moment_text);

using units::day_after;
using units::days_between;
using units::monday_of;
using units::week_of;

}  // namespace wm::desk
