#include "units/calendar.hpp"

#include <fmt/format.h>

#include <chrono>

namespace wm::units {

namespace {

namespace chr = std::chrono;

std::optional<int> digits(std::string_view text, std::size_t at, std::size_t count) {
    if (at + count > text.size()) return std::nullopt;
    int value = 0;
    for (std::size_t i = at; i < at + count; ++i) {
        if (text[i] < '0' || text[i] > '9') return std::nullopt;
        value = value * 10 + (text[i] - '0');
    }
    return value;
}

std::optional<chr::sys_days> read_day(std::string_view text) {
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
    const auto y = digits(text, 0, 4);
    const auto m = digits(text, 5, 2);
    const auto d = digits(text, 8, 2);
    if (!y || !m || !d) return std::nullopt;
    const chr::year_month_day day{chr::year{*y}, chr::month{static_cast<unsigned>(*m)},
                                  chr::day{static_cast<unsigned>(*d)}};
    if (!day.ok()) return std::nullopt;
    return chr::sys_days{day};
}

std::string print_day(chr::sys_days days) {
    const chr::year_month_day day{days};
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(day.year()), static_cast<unsigned>(day.month()),
                       static_cast<unsigned>(day.day()));
}

// The ISO year and week of a day: those of the Thursday in the same week.
std::pair<int, int> iso_week(chr::sys_days day) {
    const chr::weekday weekday{day};
    const chr::sys_days thursday = day + chr::days{4} - chr::days{weekday.iso_encoding()};
    const chr::year year = chr::year_month_day{thursday}.year();
    const chr::sys_days first{chr::year_month_day{year, chr::January, chr::day{1}}};
    return {static_cast<int>(year), static_cast<int>((thursday - first).count() / 7) + 1};
}

}  // namespace

std::optional<int> day_number(std::string_view day) {
    const auto days = read_day(day);
    if (!days) return std::nullopt;
    return static_cast<int>(days->time_since_epoch().count());
}

std::string day_of_number(int number) { return print_day(chr::sys_days{chr::days{number}}); }

std::optional<int> days_between(std::string_view from, std::string_view to) {
    const auto a = read_day(from);
    const auto b = read_day(to);
    if (!a || !b) return std::nullopt;
    return static_cast<int>((*b - *a).count());
}

std::optional<std::string> day_after(std::string_view day, int days) {
    const auto start = read_day(day);
    if (!start) return std::nullopt;
    return print_day(*start + chr::days{days});
}

std::optional<std::string> week_of(std::string_view day) {
    const auto days = read_day(day);
    if (!days) return std::nullopt;
    const auto [year, week] = iso_week(*days);
    if (year < 0) return std::nullopt;  // the first days of the year 0
    return fmt::format("{:04}-W{:02}", year, week);
}

std::optional<std::string> monday_of(std::string_view week) {
    if (week.size() != 8 || week[4] != '-' || week[5] != 'W') return std::nullopt;
    const auto year = digits(week, 0, 4);
    const auto number = digits(week, 6, 2);
    if (!year || !number || *number < 1) return std::nullopt;
    const chr::sys_days fourth{chr::year_month_day{chr::year{*year}, chr::January, chr::day{4}}};
    const chr::sys_days monday =
        fourth - chr::days{chr::weekday{fourth}.iso_encoding() - 1} + chr::days{7 * (*number - 1)};
    if (iso_week(monday) != std::pair{*year, *number}) return std::nullopt;
    return print_day(monday);
}

}  // namespace wm::units
