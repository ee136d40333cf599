// Whether the wall clock of a device was moved, told by what the machine counted since its start.
//
// Within one start of the machine wall clock and count run at the same rate (both are steered alike), so
// their difference only changes where somebody, or a time server, set the wall clock. It is compared with
// the difference when this start was first seen or a jump was last told, so that many small moves count
// together. Zones and daylight saving do not move the UTC clock and so are no jumps. Across two starts
// nothing was counted in between, and only a clock that went back can be told. A time that was given by hand
// is compared with nothing: the entries say that it was given, once where it begins and once where it ends.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "record/clock.hpp"
#include "record/entry.hpp"

namespace wm::record {

/// Where the times of entries come from: the clock of the machine, or what somebody gave in its place.
enum class TimeSource { Clock, Hand };
[[nodiscard]] TimeSource time_source_of(const TimeSourceChanged& told);
[[nodiscard]] TimeSourceChanged told_of(TimeSource source);

/// More than this is a jump.
inline constexpr std::int64_t clock_tolerance_ms = 2 * 60 * 1000;

struct SinceBoot {
    std::string boot;  ///< names this start of the machine
    std::int64_t ms = 0;  ///< since then, time asleep included
    friend bool operator==(const SinceBoot&, const SinceBoot&) = default;
};

/// Both clocks at one moment.
struct ClockReading {
    std::int64_t wall_ms = 0;  ///< since 1970-01-01T00:00:00Z
    SinceBoot since_boot;
    friend bool operator==(const ClockReading&, const ClockReading&) = default;
};

/// What is kept of the clocks from intent to intent.
struct ClockKept {
    ClockReading anchor;             ///< as this start was first seen, or a jump was last told
    std::int64_t last_wall_ms = 0;   ///< the wall clock when this was kept
    std::int64_t after_seq = 0;      ///< last entry of the device then
    friend bool operator==(const ClockKept&, const ClockKept&) = default;
};

/// The jump between two looks, or nothing. `last_wall_ms` is what the wall clock showed at the last entry
/// that it timed after `kept` (0 if none): it counts across a restart only.
[[nodiscard]] std::optional<ClockJumped> jump_between(const ClockKept& kept, std::int64_t last_wall_ms,
                                                      const ClockReading& now);

/// What is to be told before the next entries, and what is to be kept: with a jump once it is told, else before
/// the entries; nothing where `kept` still serves.
struct ClockWatch {
    std::optional<TimeSourceChanged> source = {};
    std::optional<ClockJumped> jump = {};
    std::optional<ClockKept> keep = {};
};

/// One look at both clocks before an entry that gets the stamp `next`, after entry `seq` of the device.
/// A stamp that runs ahead of the wall clock does not tell it, so it is kept beside.
[[nodiscard]] ClockWatch watched(const std::optional<ClockKept>& kept, std::int64_t last_wall_ms,
                                 const ClockReading& now, const Stamp& next, std::int64_t seq);

/// One line of text, and back; nullopt for anything else.
[[nodiscard]] std::string text_of(const ClockKept& kept);
[[nodiscard]] std::optional<ClockKept> clock_kept_of(const std::string& text);

}  // namespace wm::record
