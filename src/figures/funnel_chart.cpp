#include "figures/funnel_chart.hpp"

#include <algorithm>

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

constexpr double percent = 100.0;

Plot plot_of(Box into, const FunnelChart& chart) {
    double most = 1.0;
    double highest = chart.target;
    for (const FunnelMark& mark : chart.marks) {
        most = std::max(most, mark.tries);
        highest = std::max(highest, mark.share);
    }
    // The funnel is open to both sides at few tries; what is drawn of it reaches a little over the marks.
    const double top = std::min(1.0, std::max(1.3 * highest, 2.0 * chart.target));
    return Plot{into, {{0.0, 1.05 * most}, {0.0, percent * std::max(top, 0.01)}, "results", "%", chart.text_mm}};
}

void draw_limit(Canvas& on, const Plot& plot, const FunnelChart& chart, double FunnelStep::* side, drawing::Stroke stroke) {
    const double top = plot.field().top;
    std::vector<Point> path;
    for (const FunnelStep& step : chart.steps) {
        const Point at = plot.at(step.tries, percent * (step.*side));
        if (at.y < top) continue;  // above the field, where it is still steep
        path.push_back(at);
    }
    if (path.size() > 1) on.stroke(path, drawing::Ends::Open, stroke);
}

}  // namespace

std::vector<Point> draw_funnel_chart(Canvas& on, Box into, const FunnelChart& chart) {
    if (chart.marks.empty()) {
        on.text(into.middle(), "too few crews to compare", {chart.text_mm, Weight::Regular, Ink::Faint, Anchor::Middle});
        return {};
    }
    const Plot plot = plot_of(into, chart);
    plot.draw_axes(on);
    for (auto side : {&FunnelStep::low998, &FunnelStep::high998}) draw_limit(on, plot, chart, side, {Ink::Faint, 0.45});
    for (auto side : {&FunnelStep::low95, &FunnelStep::high95}) draw_limit(on, plot, chart, side, {Ink::Faint, 0.2});
    const double y = plot.at(0.0, percent * chart.target).y;
    drawing::dashed_line(on, {plot.field().left, y}, {plot.field().right(), y}, {Ink::Accent, 0.3}, {0.8, 0.6});
    std::vector<Box> taken;
    std::vector<Point> places;
    for (const FunnelMark& mark : chart.marks) {
        const Point at = plot.at(mark.tries, percent * mark.share);
        places.push_back(at);
        draw_point_mark(on, mark.outside ? 1 : 0, at, (mark.outside ? 0.8 : 0.6) * chart.text_mm, mark.outside ? Ink::Bad : Ink::Text);
        if (mark.outside) on.stroke_circle(at, 0.75 * chart.text_mm, {Ink::Bad, 0.3});
        const drawing::TextStyle style{chart.text_mm, mark.outside ? Weight::Bold : Weight::Regular, Ink::Text, Anchor::End};
        const double width = on.text_width(mark.name, style);
        const Box words{at.x - 0.8 * chart.text_mm - width, at.y - 0.7 * chart.text_mm, width, 1.1 * chart.text_mm};
        const bool free = std::none_of(taken.begin(), taken.end(), [&](const Box& other) {
            return words.left < other.right() && other.left < words.right() && words.top < other.bottom() && other.top < words.bottom();
        });
        if (!free && !mark.outside) continue;
        taken.push_back(words);
        on.text({words.right(), at.y + 0.35 * chart.text_mm}, mark.name, style);
    }
    return places;
}

}  // namespace wm::figures
