#include "drawing/shapes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace wm::drawing {

void dashed_line(Canvas& on, Point from, Point to, Stroke with, Dash pattern) {
    const double dx = to.x - from.x;
    const double dy = to.y - from.y;
    const double length = std::hypot(dx, dy);
    if (length <= 0.0 || pattern.dash_mm <= 0.0 || pattern.gap_mm <= 0.0) return;
    const auto at = [&](double along) {
        return Point{from.x + dx * along / length, from.y + dy * along / length};
    };
    for (double along = 0.0; along < length; along += pattern.dash_mm + pattern.gap_mm) {
        on.line(at(along), at(std::min(along + pattern.dash_mm, length)), with);
    }
}

std::vector<Point> points_of(const Arc& arc) {
    const double sweep = arc.to_deg - arc.from_deg;
    const int steps = std::max(2, static_cast<int>(std::ceil(std::abs(sweep) / 10.0)));
    std::vector<Point> points;
    points.reserve(static_cast<std::size_t>(steps) + 1);
    for (int i = 0; i <= steps; ++i) {
        const double angle = (arc.from_deg + sweep * i / steps) * std::numbers::pi / 180.0;
        points.push_back({arc.centre.x + arc.radius_mm * std::cos(angle),
                          arc.centre.y + arc.radius_mm * std::sin(angle)});
    }
    return points;
}

void stroke_arc(Canvas& on, const Arc& arc, Stroke with) {
    on.stroke(points_of(arc), Ends::Open, with);
}

void hatch(Canvas& on, Box box, double pitch_mm, Stroke with) {
    const double pitch = std::max(pitch_mm, 0.2);
    // Each line satisfies x + y = c in the box's own coordinates.
    for (double c = pitch; c < box.width + box.height; c += pitch) {
        const double x0 = std::max(0.0, c - box.height);
        const double x1 = std::min(box.width, c);
        if (x1 <= x0) continue;
        on.line({box.left + x0, box.top + c - x0}, {box.left + x1, box.top + c - x1}, with);
    }
}

void arrow(Canvas& on, Point from, Point to, double head_mm, Stroke with) {
    const double length = std::hypot(to.x - from.x, to.y - from.y);
    if (length <= 0.0) return;
    const double ux = (to.x - from.x) / length;
    const double uy = (to.y - from.y) / length;
    const double head = std::min(head_mm, length);
    const Point neck{to.x - ux * head, to.y - uy * head};
    on.line(from, neck, with);
    const double half = head * 0.4;
    const std::array<Point, 3> tip{to, Point{neck.x - uy * half, neck.y + ux * half},
                                   Point{neck.x + uy * half, neck.y - ux * half}};
    on.fill(tip, with.ink);
}

}  // namespace wm::drawing
