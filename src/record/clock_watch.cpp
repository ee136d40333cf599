#include "record/clock_watch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>

namespace wm::record {
namespace {

/// "2027-03-04T07:10:00Z". A wall clock outside the years that a stamp has is shown at their edge.
std::string to_the_second(std::int64_t wall_ms) {
    constexpr std::int64_t last_ms = 253402300799999;
    return text_of(Stamp{std::clamp<std::int64_t>(wall_ms, 0, last_ms), 0}).substr(0, 19) + "Z";
}

std::optional<std::int64_t> whole_number(std::string_view text) {
    std::int64_t value = 0;
    const auto [end, problem] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (problem != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return value;
}

constexpr std::string_view by_clock = "the clock";

bool is_name_of_a_boot(std::string_view text) {
    return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) {
        return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || c == '-';
    });
}

}  // namespace

// A word of a later version is no clock.
TimeSource time_source_of(const TimeSourceChanged& told) { return told.to == by_clock ? TimeSource::Clock : TimeSource::Hand; }

TimeSourceChanged told_of(TimeSource source) { return {source == TimeSource::Hand ? "given by hand" : std::string{by_clock}}; }

std::optional<ClockJumped> jump_between(const ClockKept& kept, std::int64_t last_wall_ms, const ClockReading& now) {
    if (now.since_boot.boot == kept.anchor.since_boot.boot) {
        const std::int64_t expected = kept.anchor.wall_ms + (now.since_boot.ms - kept.anchor.since_boot.ms);
        const std::int64_t by = now.wall_ms - expected;
        if (by <= clock_tolerance_ms && by >= -clock_tolerance_ms) return std::nullopt;
        return ClockJumped{to_the_second(expected), to_the_second(now.wall_ms), by, "within a boot"};
    }
    const std::int64_t latest = std::max(kept.last_wall_ms, last_wall_ms);
    if (now.wall_ms >= latest - clock_tolerance_ms) return std::nullopt;
    return ClockJumped{to_the_second(latest), to_the_second(now.wall_ms), now.wall_ms - latest, "across a restart"};
}

ClockWatch watched(const std::optional<ClockKept>& kept, std::int64_t last_wall_ms, const ClockReading& now, const Stamp& next,
                   std::int64_t seq) {
    ClockWatch watch{.jump = jump_between(kept.value_or(ClockKept{}), last_wall_ms, now)};
    if (watch.jump || !kept || kept->anchor.since_boot.boot != now.since_boot.boot)
        watch.keep = ClockKept{now, now.wall_ms, seq};
    else if (next != Stamp{now.wall_ms, 0})
        watch.keep = ClockKept{kept->anchor, now.wall_ms, seq};
    return watch;
}

std::string text_of(const ClockKept& kept) {
    return fmt::format("{} {} {} {} {}\n", kept.anchor.since_boot.boot, kept.anchor.since_boot.ms, kept.anchor.wall_ms,
                       kept.last_wall_ms, kept.after_seq);
}

std::optional<ClockKept> clock_kept_of(const std::string& text) {
    if (!text.ends_with('\n')) return std::nullopt;
    std::array<std::string_view, 5> parts;
    std::string_view rest{text.data(), text.size() - 1};
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const auto space = rest.find(' ');
        if ((space == std::string_view::npos) != (i + 1 == parts.size())) return std::nullopt;
        parts[i] = rest.substr(0, space);
        rest.remove_prefix(std::min(rest.size(), parts[i].size() + 1));
    }
    const auto ms = whole_number(parts[1]);
    const auto wall = whole_number(parts[2]);
    const auto last = whole_number(parts[3]);
    const auto seq = whole_number(parts[4]);
    if (!is_name_of_a_boot(parts[0]) || !ms || !wall || !last || !seq) return std::nullopt;
    return ClockKept{{*wall, {std::string{parts[0]}, *ms}}, *last, *seq};
}

}  // namespace wm::record
