#include "screens/week_charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "desk/week_charts.hpp"
#include "screens/screen_canvas.hpp"

namespace wm::screens {
namespace {

using desk::WeekView;
using drawing::Box;
using drawing::Point;

/// Letters no smaller than the smallest of the screen.
double letters_mm(const Touch& touch) { return static_cast<double>(small_em_mm * touch.metrics.text_scale()); }

/// The touch on a chart, in millimetres of its sheet.
std::optional<Point> touched(const Touch& touch, const std::optional<Contact>& finger) {
    if (!finger) return std::nullopt;
    const float px = touch.metrics.px_per_mm;
    return Point{static_cast<double>(finger->x / px), static_cast<double>(finger->y / px)};
}

void note_place(Touch& touch, const Rect& chart, const std::string& name, const Point& centre) {
    const float px = touch.metrics.px_per_mm;
    constexpr float half_mm = 2.0F;
    note_spot(touch, name,
              {chart.x + (static_cast<float>(centre.x) - half_mm) * px, chart.y + (static_cast<float>(centre.y) - half_mm) * px,
               2.0F * half_mm * px, 2.0F * half_mm * px});
}

/// Place of the nearest by the distance given; nullopt beyond `most`.
template <class Distance>
std::optional<std::size_t> nearest(std::size_t count, double most, Distance&& distance) {
    std::optional<std::size_t> found;
    for (std::size_t i = 0; i < count; ++i) {
        const double away = distance(i);
        if (away > most) continue;
        most = away;
        found = i;
    }
    return found;
}

std::optional<ChartPress> season(Touch& touch, ScrollArea& area, const WeekView& week) {
    if (week.trend.size() < 2) return std::nullopt;
    const Scope scope{touch, "season"};
    area.heading("Failures week by week");
    auto chart = desk::trend_of(week);
    chart.text_mm = letters_mm(touch);
    const Rect at = area.take(touch.mm(static_cast<float>(30.0 + 6.0 * chart.text_mm)), touch.gap());
    if (!area.is_near(at)) return std::nullopt;
    const auto finger = touched(touch, finger_up(touch, "chart", at));
    ScreenCanvas canvas{touch, at};
    const auto places = figures::draw_control_chart(canvas, canvas.sheet(), chart);
    for (std::size_t i = 0; i < places.size(); ++i) note_place(touch, at, week.trend[i].week, places[i]);
    if (!finger) return std::nullopt;
    // A point has the whole height of its column for the finger.
    constexpr double column_mm = 10.0;
    const auto hit = nearest(places.size(), column_mm, [&](std::size_t i) { return std::abs(places[i].x - finger->x); });
    if (!hit) return std::nullopt;
    const auto& point = week.trend[*hit];
    return ChartPress{fmt::format("{}, {} of {} results failed", point.week, point.failed, point.tries), "", point.jobs, point.week};
}

std::optional<ChartPress> most(Touch& touch, ScrollArea& area, const WeekView& week) {
    if (week.failed.empty()) return std::nullopt;
    const Scope scope{touch, "most"};
    area.heading("What fails most");
    auto bars = desk::pareto_of(week);
    bars.text_mm = letters_mm(touch);
    bars.names = figures::ParetoNames::Above;
    const Rect at = area.take(touch.mm(static_cast<float>(figures::pareto_height(bars)) + 1.0F), touch.gap());
    if (!area.is_near(at)) return std::nullopt;
    const auto finger = touched(touch, finger_up(touch, "chart", at));
    ScreenCanvas canvas{touch, at};
    const auto strips = figures::draw_pareto(canvas, canvas.sheet(), bars);
    const auto is_rest = [&](std::size_t i) { return i == static_cast<std::size_t>(bars.most); };
    for (std::size_t i = 0; i < strips.size(); ++i) note_place(touch, at, is_rest(i) ? "others" : week.failed[i].name, strips[i].middle());
    if (!finger) return std::nullopt;
    for (std::size_t i = 0; i < strips.size(); ++i) {
        if (finger->y < strips[i].top || finger->y > strips[i].bottom()) continue;
        if (!is_rest(i)) return ChartPress{week.failed[i].words, week.failed[i].check, week.failed[i].jobs, ""};
        std::set<std::string> jobs;
        for (auto row = i; row < week.failed.size(); ++row) jobs.insert(week.failed[row].jobs.begin(), week.failed[row].jobs.end());
        return ChartPress{"all other checks", "", {jobs.begin(), jobs.end()}, ""};
    }
    return std::nullopt;
}

std::optional<ChartPress> crews(Touch& touch, ScrollArea& area, const WeekView& week) {
    if (!week.funnel) return std::nullopt;
    const Scope scope{touch, "crews"};
    area.heading("Crews by how much they did");
    auto chart = desk::funnel_of(week);
    chart.text_mm = letters_mm(touch);
    const Rect at = area.take(touch.mm(static_cast<float>(40.0 + 6.0 * chart.text_mm)), touch.gap());
    if (!area.is_near(at)) return std::nullopt;
    const auto finger = touched(touch, finger_up(touch, "chart", at));
    ScreenCanvas canvas{touch, at};
    const auto places = figures::draw_funnel_chart(canvas, canvas.sheet(), chart);
    for (std::size_t i = 0; i < places.size(); ++i) note_place(touch, at, week.funnel->points[i].name, places[i]);
    if (!finger) return std::nullopt;
    constexpr double finger_mm = 14.0;
    const auto hit = nearest(places.size(), finger_mm,
                             [&](std::size_t i) { return std::hypot(places[i].x - finger->x, places[i].y - finger->y); });
    if (!hit) return std::nullopt;
    const auto& point = week.funnel->points[*hit];
    return ChartPress{fmt::format("{} in the season, {} of {} results failed", point.name, point.failed, point.tries), "", point.jobs, ""};
}

}  // namespace

void finding_chart(Touch& touch, ScrollArea& area, const WeekView& week, const desk::FindingView& finding) {
    if (auto shares = desk::finding_chart(finding); !shares.rows.empty()) {
        shares.text_mm = letters_mm(touch);
        const Rect at = area.take(touch.mm(static_cast<float>(figures::interval_chart_height(shares)) + 1.0F), touch.gap());
        ScreenCanvas canvas{touch, at};
        figures::draw_interval_chart(canvas, canvas.sheet(), shares);
    }
    const auto* gauge = finding.kind == "instrument drift" ? desk::gauge_named(week, finding.subject) : nullptr;
    if (gauge == nullptr || gauge->points.size() < 2) return;
    area.words("Each reading beside the other gauges of its street; between the lines one reading alone means nothing. Ringed: the sum of them is beyond chance.",
               Face::Small, touch.theme.quiet);
    auto chart = desk::drift_of(*gauge);
    chart.text_mm = letters_mm(touch);
    const Rect at = area.take(touch.mm(static_cast<float>(30.0 + 6.0 * chart.text_mm)), touch.gap());
    ScreenCanvas canvas{touch, at};
    (void)figures::draw_control_chart(canvas, canvas.sheet(), chart);
}

std::optional<ChartPress> week_charts(Touch& touch, ScrollArea& area, const WeekView& week) {
    const Scope scope{touch, "charts"};
    auto pressed = season(touch, area, week);
    if (auto one = most(touch, area, week)) pressed = std::move(one);
    if (auto one = crews(touch, area, week)) pressed = std::move(one);
    return pressed;
}

}  // namespace wm::screens
