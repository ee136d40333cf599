#include "figures/control_chart.hpp"

#include "drawing/shapes.hpp"
#include "figures/plot.hpp"

namespace wm::figures {

using drawing::Anchor;
using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::Point;
using drawing::Weight;

namespace {

Plot plot_of(Box into, const ControlChart& chart) {
    std::vector<double> values;
    for (const ControlPoint& p : chart.points) {
        values.insert(values.end(), {p.value, p.centre, p.low, p.high});
    }
    Span y = widened(span_of(values), 0.08);
    if (y.low < 0.0 && span_of(values).low >= 0.0) y.low = 0.0;
    return Plot{
        into,
        {{-0.5, static_cast<double>(chart.points.size()) - 0.5}, y, "", chart.unit, chart.text_mm}};
}

void draw_room_for_chance(Canvas& on, const Plot& plot, const ControlChart& chart) {
    for (std::size_t i = 0; i < chart.points.size(); ++i) {
        const auto x = static_cast<double>(i);
        const Point low = plot.at(x - 0.5, chart.points[i].low);
        const Point high = plot.at(x + 0.5, chart.points[i].high);
        on.fill_box({low.x, high.y, high.x - low.x, low.y - high.y}, 0.0, Ink::Tint);
    }
}

void draw_limits(Canvas& on, const Plot& plot, const ControlChart& chart) {
    for (std::size_t i = 0; i < chart.points.size(); ++i) {
        const ControlPoint& p = chart.points[i];
        const auto x = static_cast<double>(i);
        const Point low = plot.at(x - 0.5, p.low);
        const Point high = plot.at(x + 0.5, p.high);
        on.line({low.x, high.y}, high, {Ink::Faint, 0.3});
        on.line(low, {high.x, low.y}, {Ink::Faint, 0.3});
        drawing::dashed_line(on, plot.at(x - 0.5, p.centre), plot.at(x + 0.5, p.centre),
                             {Ink::Accent, 0.3}, {0.8, 0.6});
    }
}

void draw_labels(Canvas& on, const Plot& plot, const ControlChart& chart) {
    const drawing::TextStyle style{chart.text_mm, Weight::Regular, Ink::Faint, Anchor::Middle};
    double taken = plot.field().left - 100.0;
    for (std::size_t i = 0; i < chart.points.size(); ++i) {
        const std::string& label = chart.points[i].label;
        const double x = plot.at(static_cast<double>(i), 0.0).x;
        const double half = on.text_width(label, style) / 2.0;
        if (x - half < taken) continue;
        on.text({x, plot.field().bottom() + 1.5 * chart.text_mm}, label, style);
        taken = x + half + chart.text_mm;
    }
}

}  // namespace

std::vector<Point> draw_control_chart(Canvas& on, Box into, const ControlChart& chart) {
    if (chart.points.empty()) {
        on.text(into.middle(), "no week holds results yet",
                {chart.text_mm, Weight::Regular, Ink::Faint, Anchor::Middle});
        return {};
    }
    const Plot plot = plot_of(into, chart);
    draw_room_for_chance(on, plot, chart);
    plot.draw_y_axis(on);
    draw_limits(on, plot, chart);
    std::vector<Point> path;
    for (std::size_t i = 0; i < chart.points.size(); ++i) {
        path.push_back(plot.at(static_cast<double>(i), chart.points[i].value));
    }
    on.stroke(path, drawing::Ends::Open, {Ink::Text, 0.35});
    for (std::size_t i = 0; i < path.size(); ++i) {
        if (chart.points[i].signals) {
            draw_point_mark(on, 1, path[i], 0.8 * chart.text_mm, Ink::Bad);
            on.stroke_circle(path[i], 0.75 * chart.text_mm, {Ink::Bad, 0.3});
        } else {
            draw_point_mark(on, 0, path[i], 0.6 * chart.text_mm, Ink::Text);
        }
    }
    draw_labels(on, plot, chart);
    return path;
}

}  // namespace wm::figures
