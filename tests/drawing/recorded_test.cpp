#include "drawing/recorded.hpp"

#include <doctest/doctest.h>

#include "drawing/shapes.hpp"

using namespace wm::drawing;

TEST_CASE("two texts on the same spot are reported as colliding, neighbours are not") {
    RecordedCanvas canvas;
    canvas.text({10, 10}, "pressure", {});
    canvas.text({12, 10.5}, "torque", {});
    canvas.text({10, 20}, "tilt", {});
    CHECK(colliding_texts(canvas) == std::vector<std::string>{"pressure / torque"});
}

TEST_CASE("what reaches outside the limits is named") {
    RecordedCanvas canvas;
    canvas.text({95, 10}, "sticks out", {});
    canvas.fill_circle({50, 50}, 3, Ink::Good);
    canvas.line({0, 0}, {120, 0}, {});
    CHECK(outside(canvas, {0, 0, 100, 100}) == std::vector<std::string>{"sticks out", "stroke"});
}

TEST_CASE("a replayed recording records the same commands") {
    RecordedCanvas first;
    first.stroke_box({1, 2, 3, 4}, 0.5, {Ink::Bad, 0.3});
    first.fill_box({1, 2, 3, 4}, 0.0, Ink::Tint);
    first.stroke_circle({5, 5}, 2, {});
    first.fill_circle({5, 5}, 2, Ink::Hot);
    arrow(first, {0, 0}, {9, 9}, 2, {});
    first.text({1, 1}, "kPa", {});
    RecordedCanvas second;
    replay(first, second);
    CHECK(second.drawn().size() == first.drawn().size());
    CHECK(colliding_texts(second).empty());
    CHECK(std::get<DrawnBox>(second.drawn()[1]).stroke.width_mm == 0.0);
}

TEST_CASE("an anchor at the end puts the text to the left of its point") {
    const DrawnText text{{50, 10}, "ohm", {3.0, Weight::Regular, Ink::Text, Anchor::End}};
    CHECK(box_of(text).right() == doctest::Approx(50.0));
}
