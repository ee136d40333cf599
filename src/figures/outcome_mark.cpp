#include "figures/outcome_mark.hpp"

#include <array>

#include "drawing/shapes.hpp"

namespace wm::figures {

using drawing::Canvas;
using drawing::Ends;
using drawing::Ink;
using drawing::Point;
using drawing::Stroke;
using measure::Outcome;

namespace {

void draw_tick_disc(Canvas& on, Point c, double r) {
    on.fill_circle(c, r, Ink::Good);
    const std::array<Point, 3> tick{Point{c.x - 0.5 * r, c.y + 0.02 * r},
                                    Point{c.x - 0.12 * r, c.y + 0.42 * r},
                                    Point{c.x + 0.52 * r, c.y - 0.42 * r}};
    on.stroke(tick, Ends::Open, {Ink::Paper, 0.26 * r});
}

void draw_cross_square(Canvas& on, Point c, double r) {
    const double half = 0.88 * r;
    const drawing::Box box{c.x - half, c.y - half, 2.0 * half, 2.0 * half};
    on.fill_box(box, 0.0, Ink::Paper);
    on.stroke_box(box, 0.0, {Ink::Bad, 0.24 * r});
    const double arm = 0.5 * r;
    const Stroke thick{Ink::Bad, 0.28 * r};
    on.line({c.x - arm, c.y - arm}, {c.x + arm, c.y + arm}, thick);
    on.line({c.x - arm, c.y + arm}, {c.x + arm, c.y - arm}, thick);
}

void draw_asking_diamond(Canvas& on, Point c, double r) {
    const double d = 1.12 * r;
    const std::array<Point, 4> diamond{Point{c.x, c.y - d}, Point{c.x + d, c.y},
                                       Point{c.x, c.y + d}, Point{c.x - d, c.y}};
    on.fill(diamond, Ink::Paper);
    on.stroke(diamond, Ends::Closed, {Ink::Unsure, 0.2 * r});
    on.text({c.x, c.y + 0.46 * r}, "?",
            {1.3 * r, drawing::Weight::Bold, Ink::Unsure, drawing::Anchor::Middle});
}

void draw_half_clock(Canvas& on, Point c, double r) {
    on.fill_circle(c, 0.9 * r, Ink::Paper);
    on.fill(drawing::points_of({c, 0.9 * r, -90.0, 90.0}), Ink::Waiting);
    on.stroke_circle(c, 0.9 * r, {Ink::Waiting, 0.2 * r});
}

}  // namespace

Ink ink_of(Outcome outcome) {
    switch (outcome) {
        case Outcome::Conforms:
            return Ink::Good;
        case Outcome::DoesNotConform:
            return Ink::Bad;
        case Outcome::Inconclusive:
            return Ink::Unsure;
        case Outcome::Deferred:
            return Ink::Waiting;
        case Outcome::Open:
            return Ink::Text;
        case Outcome::NotApplicable:
            return Ink::Faint;
    }
    return Ink::Text;
}

void draw_outcome_mark(Canvas& on, Outcome outcome, Point centre, double size_mm) {
    const double r = size_mm / 2.0;
    switch (outcome) {
        case Outcome::Conforms:
            draw_tick_disc(on, centre, r);
            return;
        case Outcome::DoesNotConform:
            draw_cross_square(on, centre, r);
            return;
        case Outcome::Inconclusive:
            draw_asking_diamond(on, centre, r);
            return;
        case Outcome::Deferred:
            draw_half_clock(on, centre, r);
            return;
        case Outcome::Open:
            on.fill_circle(centre, 0.86 * r, Ink::Paper);
            on.stroke_circle(centre, 0.86 * r, {Ink::Text, 0.2 * r});
            return;
        case Outcome::NotApplicable:
            on.line({centre.x - 0.45 * r, centre.y}, {centre.x + 0.45 * r, centre.y},
                    {Ink::Faint, 0.26 * r});
            return;
    }
}

}  // namespace wm::figures
