// The hybrid clock: wall time that never runs backwards and never follows a clock gone wrong.
//
// A stamp is 29 characters, "2027-03-04T07:10:00.123Z.0004": UTC with milliseconds and a counter,
// fixed in width so that the order of texts is the order of times.
// Source of the idea: Kulkarni et al., "Logical Physical Clocks", OPODIS 2014 (from memory).
#pragma once

#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "problem/result.hpp"

namespace wm::record {

struct Stamp {
    std::int64_t wall_ms = 0;  ///< since 1970-01-01T00:00:00Z, up to the year 9999
    int counter = 0;           ///< 0 to 9999
    friend auto operator<=>(const Stamp&, const Stamp&) = default;
};

[[nodiscard]] std::string text_of(const Stamp& stamp);
/// nullopt unless it is a stamp of a real date, letter for letter.
[[nodiscard]] std::optional<Stamp> stamp_of(std::string_view text);

/// Another device's clock that is further ahead than this is ordered by, never followed.
inline constexpr std::int64_t largest_lead_ms = 10 * 60 * 1000;

/// The stamp for the next entry of our own: later than `last`, at or after the wall clock.
[[nodiscard]] Stamp next_stamp(const Stamp& last, std::int64_t wall_ms);

/// Our clock after having seen another's stamp: at least that stamp, unless it leads the wall
/// clock by more than `largest_lead_ms`, in which case it is left alone.
[[nodiscard]] Stamp after_seeing(const Stamp& ours, const Stamp& theirs, std::int64_t wall_ms);

}  // namespace wm::record
