#include "figures/plot.hpp"

#include <algorithm>
#include <array>

namespace wm::figures {

using drawing::Anchor;
using drawing::Ink;
using drawing::Point;
using drawing::TextStyle;
using drawing::Weight;

Plot::Plot(drawing::Box into, const PlotAxes& axes) : axes_{axes} {
    const double em = axes.text_mm;
    const double left = 4.2 * em;
    field_ = {into.left + left, into.top + 1.6 * em, into.width - left - 1.5 * em,
              into.height - 3.6 * em};
}

void Plot::draw_y_axis(drawing::Canvas& on) const {
    const double em = axes_.text_mm;
    const int most = std::max(2, static_cast<int>(field_.height / (1.9 * em)));
    const auto ticks = round_ticks(axes_.y, most);
    const TextStyle style{em, Weight::Regular, Ink::Faint, Anchor::End};
    const double spacing = ticks.size() > 1 ? ticks[1] - ticks[0] : 1.0;
    for (const double tick : ticks) {
        const double y = at(axes_.x.low, tick).y;
        on.line({field_.left, y}, {field_.right(), y}, {Ink::Hairline, 0.12});
        on.text({field_.left - 0.5 * em, y + 0.35 * em}, tick_text(tick, spacing), style);
    }
    on.text({field_.left - 3.7 * em, field_.top - 0.6 * em}, axes_.y_unit,
            {em, Weight::Regular, Ink::Faint, Anchor::Start});
}

void Plot::draw_axes(drawing::Canvas& on) const {
    draw_y_axis(on);
    const double em = axes_.text_mm;
    const int most = std::max(2, static_cast<int>(field_.width / (5.0 * em)));
    const auto ticks = round_ticks(axes_.x, most);
    const double spacing = ticks.size() > 1 ? ticks[1] - ticks[0] : 1.0;
    const double y = field_.bottom() + 1.5 * em;
    for (std::size_t i = 0; i < ticks.size(); ++i) {
        const double tick = ticks[i];
        const double x = at(tick, axes_.y.low).x;
        on.line({x, field_.bottom()}, {x, field_.bottom() + 0.35 * em}, {Ink::Text, 0.2});
        const bool last = i + 1 == ticks.size();
        const std::string words = tick_text(tick, spacing);
        on.text({x, y}, words, {em, Weight::Regular, Ink::Faint, Anchor::Middle});
        if (!last) continue;
        const double half = on.text_width(words, {em}) / 2.0;
        on.text({x - half - 0.8 * em, y}, axes_.x_unit,
                {em, Weight::Regular, Ink::Faint, Anchor::End});
    }
    on.line({field_.left, field_.bottom()}, {field_.right(), field_.bottom()}, {Ink::Text, 0.25});
    on.line({field_.left, field_.top}, {field_.left, field_.bottom()}, {Ink::Text, 0.25});
}

void draw_point_mark(drawing::Canvas& on, int line, Point c, double size_mm, Ink ink) {
    const double r = size_mm / 2.0;
    const std::array<Point, 4> diamond{Point{c.x, c.y - 1.2 * r}, Point{c.x + 1.2 * r, c.y},
                                       Point{c.x, c.y + 1.2 * r}, Point{c.x - 1.2 * r, c.y}};
    switch (line % 4) {
        case 0:
            on.fill_circle(c, r, ink);
            return;
        case 1:
            on.fill_box({c.x - 0.9 * r, c.y - 0.9 * r, 1.8 * r, 1.8 * r}, 0.0, ink);
            return;
        case 2:
            on.fill(diamond, ink);
            return;
        default:
            on.fill_circle(c, r, Ink::Paper);
            on.stroke_circle(c, r, {ink, 0.25});
            return;
    }
}

}  // namespace wm::figures
