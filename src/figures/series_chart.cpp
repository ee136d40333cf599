#include "figures/series_chart.hpp"

#include <algorithm>

#include "figures/plot.hpp"

namespace wm::figures {

using drawing::Anchor;
using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::Point;
using drawing::Weight;

namespace {

PlotAxes axes_of(const SeriesChart& chart) {
    std::vector<double> times;
    std::vector<double> values;
    for (const SeriesLine& line : chart.lines) {
        for (const SeriesPoint& point : line.points) {
            times.push_back(point.minutes);
            values.push_back(point.value);
        }
    }
    for (const auto& limit : {chart.low, chart.high}) {
        if (limit) values.push_back(*limit);
    }
    if (chart.until && !times.empty()) {
        times.push_back(0.0);
        times.push_back(*chart.until);
    }
    return {span_of(times), widened(span_of(values), 0.15), chart.time_unit, chart.unit,
            chart.text_mm};
}

void draw_band(Canvas& on, const Plot& plot, const SeriesChart& chart) {
    const Box& field = plot.field();
    if (!chart.low && !chart.high) return;
    const double top = chart.high ? plot.at(0, *chart.high).y : field.top;
    const double bottom = chart.low ? plot.at(0, *chart.low).y : field.bottom();
    on.fill_box({field.left, top, field.width, bottom - top}, 0.0, Ink::Tint);
}

void draw_limits(Canvas& on, const Plot& plot, const SeriesChart& chart) {
    const Box& field = plot.field();
    for (const auto& limit : {chart.low, chart.high}) {
        if (!limit) continue;
        const double y = plot.at(0, *limit).y;
        drawing::dashed_line(on, {field.left, y}, {field.right(), y}, {Ink::Text, 0.3});
    }
}

/// Names stand at the last point of their line, pushed apart where they would touch.
void draw_names(Canvas& on, const Plot& plot, const SeriesChart& chart) {
    if (chart.lines.size() < 2) return;
    const double em = chart.text_mm;
    std::vector<std::pair<double, const SeriesLine*>> names;
    for (const SeriesLine& line : chart.lines) {
        if (line.points.empty()) continue;
        names.emplace_back(plot.at(line.points.back().minutes, line.points.back().value).y, &line);
    }
    std::sort(names.begin(), names.end());
    double free_from = plot.field().top;
    for (const auto& [y, line] : names) {
        const double base = std::max(y - 0.6 * em, free_from + em);
        on.text({plot.field().right() - 0.4 * em, base}, line->name,
                {em, Weight::Regular, Ink::Text, Anchor::End});
        free_from = base + 0.2 * em;
    }
}

}  // namespace

void draw_series_chart(Canvas& on, Box into, const SeriesChart& chart) {
    const bool any = std::any_of(chart.lines.begin(), chart.lines.end(),
                                 [](const SeriesLine& line) { return !line.points.empty(); });
    if (!any) {
        on.text(into.middle(), "no readings yet",
                {chart.text_mm, Weight::Regular, Ink::Faint, Anchor::Middle});
        return;
    }
    const Plot plot{into, axes_of(chart)};
    draw_band(on, plot, chart);
    plot.draw_axes(on);
    draw_limits(on, plot, chart);
    constexpr Ink inks[] = {Ink::Text, Ink::Accent, Ink::Cold, Ink::Fluid};
    int number = 0;
    for (const SeriesLine& line : chart.lines) {
        std::vector<Point> path;
        for (const SeriesPoint& p : line.points) path.push_back(plot.at(p.minutes, p.value));
        const Ink ink = inks[number % 4];
        on.stroke(path, drawing::Ends::Open, {ink, 0.35});
        for (const Point& p : path) draw_point_mark(on, number, p, 0.65 * chart.text_mm, ink);
        ++number;
    }
    draw_names(on, plot, chart);
}

}  // namespace wm::figures
