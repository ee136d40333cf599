#include "desk/moment.hpp"

#include <fmt/format.h>

#include "record/clock.hpp"

namespace wm::desk {

namespace {

std::optional<int> digits(std::string_view text, std::size_t at, std::size_t count) {
    if (at + count > text.size()) return std::nullopt;
    int value = 0;
    for (std::size_t i = at; i < at + count; ++i) {
        if (text[i] < '0' || text[i] > '9') return std::nullopt;
        value = value * 10 + (text[i] - '0');
    }
    return value;
}

std::optional<int> read_zone(std::string_view text) {
    if (text == "Z" || text == "z") return 0;
    if (text.size() != 6 || (text[0] != '+' && text[0] != '-') || text[3] != ':') return std::nullopt;
    const auto h = digits(text, 1, 2);
    const auto m = digits(text, 4, 2);
    if (!h || !m || *h > 14 || *m > 59) return std::nullopt;
    const int minutes = *h * 60 + *m;
    return text[0] == '-' ? -minutes : minutes;
}

}  // namespace

std::optional<Moment> read_moment(std::string_view text) {
    if (text.size() < 20 || (text[10] != 'T' && text[10] != ' ')) return std::nullopt;
    const auto day = units::day_number(text.substr(0, 10));
    const auto h = digits(text, 11, 2);
    const auto m = digits(text, 14, 2);
    const auto s = digits(text, 17, 2);
    if (!day || !h || !m || !s || text[13] != ':' || text[16] != ':') return std::nullopt;
    if (*h > 23 || *m > 59 || *s > 59) return std::nullopt;
    std::size_t at = 19;
    std::int64_t ms = 0;
    if (text[at] == '.') {
        ++at;
        std::int64_t scale = 100;
        const std::size_t first = at;
        for (; at < text.size() && text[at] >= '0' && text[at] <= '9'; ++at, scale /= 10)
            ms += (text[at] - '0') * scale;
        if (at == first) return std::nullopt;
    }
    const auto zone = read_zone(text.substr(at));
    if (!zone) return std::nullopt;
    const std::int64_t seconds = std::int64_t{*day} * 86400 + *h * 3600 + *m * 60 + *s -
                                 std::int64_t{*zone} * 60;
    return Moment{seconds * 1000 + ms, *zone};
}

std::string text_of(Moment moment) {
    const std::int64_t local_s = (moment.wall_ms >= 0 ? moment.wall_ms : moment.wall_ms - 999) / 1000 +
                                 std::int64_t{moment.zone_minutes} * 60;
    const std::int64_t days = (local_s >= 0 ? local_s : local_s - 86399) / 86400;
    const std::int64_t rest = local_s - days * 86400;
    const int zone = moment.zone_minutes < 0 ? -moment.zone_minutes : moment.zone_minutes;
    return fmt::format("{}T{:02}:{:02}:{:02}{}{:02}:{:02}", units::day_of_number(static_cast<int>(days)), rest / 3600,
                       rest / 60 % 60, rest % 60, moment.zone_minutes < 0 ? '-' : '+', zone / 60, zone % 60);
}

std::string local_text(std::string_view stamp, int zone_minutes) {
    const auto read = record::stamp_of(stamp);
    return read ? text_of(Moment{read->wall_ms, zone_minutes}) : std::string{stamp};
}

std::string printed_text(std::string_view moment_text) {
    const auto moment = read_moment(moment_text);
    if (!moment) return std::string{moment_text};
    const std::string text = text_of(*moment);
    return fmt::format("{} {} {}", text.substr(0, 10), text.substr(11, 5), text.substr(19));
}

std::string day_of(Moment moment) { return text_of(moment).substr(0, 10); }

std::string day_of(std::string_view moment_text) {
    if (const auto moment = read_moment(moment_text)) return day_of(*moment);
    return std::string{moment_text.substr(0, 10)};
}

}  // namespace wm::desk
