#include "figures/plant_symbols.hpp"

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace wm::figures {

using drawing::Canvas;
using drawing::Ends;
using drawing::Ink;
using drawing::Point;
using drawing::Stroke;

namespace {

Stroke pen(const Frame& frame, double width = 0.32) {
    return {Ink::Text, frame.mm(width)};
}

/// Local coordinates: `along` the flow, `right` of it.
class Turned {
public:
    Turned(const Frame& frame, const Seat& seat)
        : frame_{frame},
          centre_{seat.centre},
          cos_{std::cos(seat.flow_deg * std::numbers::pi / 180.0)},
          sin_{std::sin(seat.flow_deg * std::numbers::pi / 180.0)} {}

    [[nodiscard]] Point at(double along, double right) const {
        return frame_.at(centre_.x + along * cos_ - right * sin_,
                         centre_.y + along * sin_ + right * cos_);
    }

private:
    const Frame& frame_;
    Point centre_;
    double cos_;
    double sin_;
};

void triangle(Canvas& on, const Frame& frame, const std::array<Point, 3>& corners, Ink inside) {
    on.fill(corners, inside);
    on.stroke(corners, Ends::Closed, pen(frame));
}

void bow_tie(Canvas& on, const Frame& frame, const Seat& seat, Ink downstream) {
    const Turned t{frame, seat};
    const double h = seat.half;
    const double w = 0.66 * h;
    triangle(on, frame, {t.at(-h, -w), t.at(-h, w), t.at(0, 0)}, Ink::Paper);
    triangle(on, frame, {t.at(h, -w), t.at(h, w), t.at(0, 0)}, downstream);
}

void spring(Canvas& on, const Frame& frame, const Turned& t, double from, double to) {
    std::vector<Point> zigzag;
    constexpr int turns = 6;
    for (int i = 0; i <= turns; ++i) {
        const double along = from + (to - from) * i / turns;
        zigzag.push_back(t.at(along, i == 0 || i == turns ? 0.0 : (i % 2 == 0 ? 0.7 : -0.7)));
    }
    on.stroke(zigzag, Ends::Open, pen(frame, 0.24));
}

}  // namespace

void draw_stop_valve(Canvas& on, const Frame& frame, const Seat& seat) {
    bow_tie(on, frame, seat, Ink::Paper);
    const Turned t{frame, seat};
    on.line(t.at(0, 0), t.at(0, -0.9 * seat.half), pen(frame));
    on.line(t.at(-0.5 * seat.half, -0.9 * seat.half), t.at(0.5 * seat.half, -0.9 * seat.half),
            pen(frame));
}

void draw_strainer(Canvas& on, const Frame& frame, const Seat& seat) {
    const Turned t{frame, seat};
    const double h = 0.8 * seat.half;
    const std::array<Point, 4> body{t.at(-h, -h), t.at(h, -h), t.at(h, h), t.at(-h, h)};
    on.fill(body, Ink::Paper);
    on.stroke(body, Ends::Closed, pen(frame));
    for (int i = 0; i < 3; ++i) {
        const double from = -h + 0.5 * i * h;
        on.line(t.at(from, -h), t.at(from + h, h), pen(frame, 0.2));
    }
}

void draw_pressure_limiter(Canvas& on, const Frame& frame, const Seat& seat) {
    bow_tie(on, frame, seat, Ink::Paper);
    const Turned t{frame, seat};
    const double h = seat.half;
    on.line(t.at(0, 0), t.at(0, -0.7 * h), pen(frame));
    const std::array<Point, 4> hood{t.at(-0.6 * h, -0.7 * h), t.at(0.6 * h, -0.7 * h),
                                    t.at(0.45 * h, -1.35 * h), t.at(-0.45 * h, -1.35 * h)};
    on.fill(hood, Ink::Paper);
    on.stroke(hood, Ends::Closed, pen(frame));
    const std::array<Point, 3> sense{t.at(0.6 * h, -1.0 * h), t.at(1.45 * h, -1.0 * h),
                                     t.at(1.45 * h, 0)};
    on.stroke(sense, Ends::Open, pen(frame, 0.2));
}

void draw_non_return(Canvas& on, const Frame& frame, const Seat& seat) {
    const Turned t{frame, seat};
    const double h = seat.half;
    const double w = 0.66 * h;
    triangle(on, frame, {t.at(-h, -w), t.at(-h, w), t.at(0.7 * h, 0)}, Ink::Text);
    on.line(t.at(0.8 * h, -w), t.at(0.8 * h, w), pen(frame, 0.5));
}

void draw_relief_valve(Canvas& on, const Frame& frame, const Seat& seat) {
    const Turned t{frame, seat};
    const double h = seat.half;
    const double w = 0.66 * h;
    triangle(on, frame, {t.at(-h, -w), t.at(-h, w), t.at(0, 0)}, Ink::Paper);
    triangle(on, frame, {t.at(-w, h), t.at(w, h), t.at(0, 0)}, Ink::Paper);
    spring(on, frame, t, 0.0, 1.5 * h);
}

void draw_mixing_valve(Canvas& on, const Frame& frame, const Seat& seat) {
    const Turned t{frame, seat};
    const double h = seat.half;
    const double w = 0.66 * h;
    triangle(on, frame, {t.at(-h, -w), t.at(-h, w), t.at(0, 0)}, Ink::Hot);
    triangle(on, frame, {t.at(-w, h), t.at(w, h), t.at(0, 0)}, Ink::Cold);
    triangle(on, frame, {t.at(h, -w), t.at(h, w), t.at(0, 0)}, Ink::Paper);
}

void draw_gauge(Canvas& on, const Frame& frame, Point centre, double radius) {
    on.fill_circle(frame.at(centre), frame.mm(radius), Ink::Paper);
    on.stroke_circle(frame.at(centre), frame.mm(radius), pen(frame));
    on.line(frame.at(centre), frame.at(centre.x + 0.6 * radius, centre.y - 0.55 * radius),
            pen(frame, 0.4));
}

void draw_expansion_vessel(Canvas& on, const Frame& frame, Point centre, double radius) {
    on.fill_circle(frame.at(centre), frame.mm(radius), Ink::Paper);
    on.stroke_circle(frame.at(centre), frame.mm(radius), pen(frame));
    on.line(frame.at(centre.x - radius, centre.y), frame.at(centre.x + radius, centre.y),
            pen(frame));
}

void draw_tap(Canvas& on, const Frame& frame, Point mouth) {
    const std::array<Point, 3> spout{frame.at(mouth.x - 6.0, mouth.y - 3.0),
                                     frame.at(mouth.x, mouth.y - 3.0), frame.at(mouth)};
    on.stroke(spout, Ends::Open, pen(frame, 0.8));
    on.line(frame.at(mouth.x - 3.4, mouth.y - 3.0), frame.at(mouth.x - 3.4, mouth.y - 5.0),
            pen(frame));
    on.line(frame.at(mouth.x - 4.8, mouth.y - 5.0), frame.at(mouth.x - 2.0, mouth.y - 5.0),
            pen(frame, 0.5));
}

void draw_tundish(Canvas& on, const Frame& frame, Point rim) {
    const std::array<Point, 4> funnel{
        frame.at(rim.x - 2.2, rim.y), frame.at(rim.x - 0.6, rim.y + 2.6),
        frame.at(rim.x + 0.6, rim.y + 2.6), frame.at(rim.x + 2.2, rim.y)};
    on.stroke(funnel, Ends::Open, pen(frame));
}

void draw_sun(Canvas& on, const Frame& frame, Point centre, double radius) {
    on.fill_circle(frame.at(centre), frame.mm(radius), Ink::Sun);
    on.stroke_circle(frame.at(centre), frame.mm(radius), pen(frame, 0.24));
    for (int i = 0; i < 8; ++i) {
        const double angle = i * std::numbers::pi / 4.0;
        const double c = std::cos(angle);
        const double s = std::sin(angle);
        on.line(frame.at(centre.x + 1.35 * radius * c, centre.y + 1.35 * radius * s),
                frame.at(centre.x + 1.8 * radius * c, centre.y + 1.8 * radius * s),
                pen(frame, 0.3));
    }
}

void draw_earth(Canvas& on, const Frame& frame, Point top) {
    on.line(frame.at(top), frame.at(top.x, top.y + 2.0), pen(frame));
    for (int i = 0; i < 3; ++i) {
        const double half = 1.8 - 0.6 * i;
        const double y = top.y + 2.0 + 0.7 * i;
        on.line(frame.at(top.x - half, y), frame.at(top.x + half, y), pen(frame));
    }
}

}  // namespace wm::figures
