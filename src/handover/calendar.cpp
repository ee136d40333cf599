#include "handover/calendar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdint>
#include <optional>
#include <string_view>

#include "handover/text_lines.hpp"

namespace wm::handover {

namespace {

std::optional<int> digits(std::string_view text) {
    int value = 0;
    for (const char c : text) {
        if (c < '0' || c > '9') return std::nullopt;
        value = 10 * value + (c - '0');
    }
    return value;
}

std::optional<std::chrono::year_month_day> day_of(std::string_view date) {
    if (date.size() != 10 || date[4] != '-' || date[7] != '-') return std::nullopt;
    const auto year = digits(date.substr(0, 4));
    const auto month = digits(date.substr(5, 2));
    const auto day = digits(date.substr(8, 2));
    if (!year || !month || !day) return std::nullopt;
    const std::chrono::year_month_day when{std::chrono::year{*year},
                                           std::chrono::month{static_cast<unsigned>(*month)},
                                           std::chrono::day{static_cast<unsigned>(*day)}};
    if (!when.ok()) return std::nullopt;
    return when;
}

std::string compact(std::chrono::year_month_day day) {
    return fmt::format("{:04}{:02}{:02}", static_cast<int>(day.year()),
                       static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
}

/// Grows from report to report, so that the later one moves the dates of the one before.
/// Source: RFC 5545, section 3.8.7.4. Minutes since 2020 fit until the year 6100.
std::int64_t sequence_of(const Moment& m) {
    using namespace std::chrono;
    const sys_seconds local = sys_days{year{m.year} / m.month / m.day} + hours{m.hour} + minutes{m.minute};
    const auto since = local - minutes{m.zone_minutes} - sys_seconds{sys_days{year{2020} / 1 / 1}};
    return std::max<std::int64_t>(0, duration_cast<minutes>(since).count());
}

void add_event(std::string& file, const CareCalendar& calendar, const CalendarDate& item,
               std::chrono::year_month_day day) {
    const std::chrono::year_month_day next{std::chrono::sys_days{day} + std::chrono::days{1}};
    add_line(file, "BEGIN:VEVENT");
    add_line(file,
             fmt::format("UID:{}.{}@witnessmark", uid_part(calendar.house), uid_part(item.key)));
    add_line(file, fmt::format("SEQUENCE:{}", sequence_of(calendar.written)));
    add_line(file, "DTSTAMP:" + utc_stamp(calendar.written));
    add_line(file, "DTSTART;VALUE=DATE:" + compact(day));
    add_line(file, "DTEND;VALUE=DATE:" + compact(next));
    add_line(file, "SUMMARY:" + escaped(item.title));
    if (!item.text.empty()) add_line(file, "DESCRIPTION:" + escaped(item.text));
    if (const auto& place = item.place.empty() ? calendar.place : item.place; !place.empty()) add_line(file, "LOCATION:" + escaped(place));
    add_line(file, "TRANSP:TRANSPARENT");
    add_line(file, "BEGIN:VALARM");
    add_line(file, "ACTION:DISPLAY");
    add_line(file, "DESCRIPTION:" + escaped(item.title));
    add_line(file, fmt::format("TRIGGER:-P{}D", item.days_ahead));
    add_line(file, "END:VALARM");
    add_line(file, "END:VEVENT");
}

}  // namespace

Result<std::string> care_calendar(const CareCalendar& calendar) {
    std::string file;
    add_line(file, "BEGIN:VCALENDAR");
    add_line(file, "VERSION:2.0");
    add_line(file, "PRODID:-//Witnessmark//Care dates//EN");
    add_line(file, "CALSCALE:GREGORIAN");
    add_line(file, "METHOD:PUBLISH");
    add_line(file, "X-WR-CALNAME:" + escaped(calendar.name.empty() ? language::filled(calendar.language.text("{company}: solar water heater"), {{"company", calendar.company}}) : calendar.name));
    for (const CalendarDate& item : calendar.dates) {
        const auto day = day_of(item.date);
        if (!day || item.key.empty()) {
            return refused({.what = fmt::format("The care date \"{}\" of \"{}\" is no date.",
                                                item.date, item.title),
                            .where = "calendar of job " + calendar.job,
                            .what_to_do = "Write it as year-month-day, for example 2027-10-01.",
                            .kind = ProblemKind::Unreadable});
        }
        add_event(file, calendar, item, *day);
    }
    add_line(file, "END:VCALENDAR");
    return file;
}

}  // namespace wm::handover
