#include "record/clock.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <charconv>
#include <chrono>

namespace wm::record {
namespace {

using namespace std::chrono;

constexpr int largest_counter = 9999;
/// 9999-12-31T23:59:59.999Z.
constexpr std::int64_t last_ms = 253402300799999;

std::optional<int> number_in(std::string_view text, std::size_t at, std::size_t digits) {
    int value = 0;
    for (const char c : text.substr(at, digits)) {
        if (c < '0' || c > '9') return std::nullopt;
        value = value * 10 + (c - '0');
    }
    return value;
}

}  // namespace

std::string text_of(const Stamp& stamp) {
    assert(stamp.wall_ms >= 0 && stamp.wall_ms <= last_ms && "a stamp has a year of four digits");
    const sys_time<milliseconds> time{milliseconds{stamp.wall_ms}};
    const auto day = floor<days>(time);
    const year_month_day date{day};
    const hh_mm_ss clock{time - day};
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}.{:03}Z.{:04}",
                       static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                       static_cast<unsigned>(date.day()), clock.hours().count(),
                       clock.minutes().count(), clock.seconds().count(), clock.subseconds().count(),
                       stamp.counter);
}

std::optional<Stamp> stamp_of(std::string_view text) {
    constexpr std::string_view form = "0000-00-00T00:00:00.000Z.0000";
    if (text.size() != form.size()) return std::nullopt;
    const auto y = number_in(text, 0, 4);
    const auto mo = number_in(text, 5, 2);
    const auto d = number_in(text, 8, 2);
    const auto h = number_in(text, 11, 2);
    const auto mi = number_in(text, 14, 2);
    const auto s = number_in(text, 17, 2);
    const auto ms = number_in(text, 20, 3);
    const auto counter = number_in(text, 25, 4);
    if (!y || !mo || !d || !h || !mi || !s || !ms || !counter) return std::nullopt;
    const year_month_day date{year{*y}, month{static_cast<unsigned>(*mo)},
                              day{static_cast<unsigned>(*d)}};
    if (!date.ok()) return std::nullopt;
    const auto time = sys_days{date} + hours{*h} + minutes{*mi} + seconds{*s} + milliseconds{*ms};
    const Stamp stamp{time.time_since_epoch().count(), *counter};
    // Printing again refuses what only looks like a stamp: hour 24, a wrong separator.
    if (stamp.wall_ms < 0 || stamp.wall_ms > last_ms || text_of(stamp) != text) return std::nullopt;
    return stamp;
}

Stamp next_stamp(const Stamp& last, std::int64_t wall_ms) {
    if (wall_ms > last.wall_ms) return {std::min(wall_ms, last_ms), 0};
    if (last.counter < largest_counter) return {last.wall_ms, last.counter + 1};
    return {last.wall_ms + 1, 0};
}

Stamp after_seeing(const Stamp& ours, const Stamp& theirs, std::int64_t wall_ms) {
    if (theirs.wall_ms > wall_ms + largest_lead_ms) return ours;
    return std::max(ours, theirs);
}

}  // namespace wm::record
