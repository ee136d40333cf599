#include "drawing/shapes.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "drawing/recorded.hpp"

using namespace wm::drawing;

TEST_CASE("a dashed line stays between its ends and leaves gaps") {
    RecordedCanvas canvas;
    dashed_line(canvas, {0, 0}, {10, 0}, {}, {2.0, 1.0});
    CHECK(canvas.drawn().size() == 4);
    CHECK(outside(canvas, {0, 0, 10, 0}).empty());
}

TEST_CASE("a dashed line of no length or no pattern draws nothing") {
    RecordedCanvas canvas;
    dashed_line(canvas, {3, 3}, {3, 3}, {});
    dashed_line(canvas, {0, 0}, {10, 0}, {}, {0.0, 1.0});
    CHECK(canvas.drawn().empty());
}

TEST_CASE("every point of an arc lies on its circle") {
    const Arc arc{{5, 5}, 3.0, -40.0, 200.0};
    for (const Point& p : points_of(arc)) {
        CHECK(std::abs(std::hypot(p.x - 5.0, p.y - 5.0) - 3.0) < 1e-9);
    }
}

TEST_CASE("hatching never leaves its box") {
    RecordedCanvas canvas;
    hatch(canvas, {10, 10, 7, 3}, 1.0, {});
    CHECK(canvas.drawn().size() > 5);
    CHECK(outside(canvas, {10, 10, 7, 3}).empty());
}

TEST_CASE("the tip of an arrow is exactly where it points") {
    RecordedCanvas canvas;
    arrow(canvas, {0, 0}, {4, 3}, 1.0, {});
    const auto& head = std::get<DrawnFill>(canvas.drawn().back());
    CHECK(head.points.front() == Point{4, 3});
}
