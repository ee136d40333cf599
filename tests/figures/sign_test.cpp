#include "figures/sign.hpp"

#include <doctest/doctest.h>

#include "drawing/recorded.hpp"

using namespace wm;

TEST_CASE("our sign is a circle split in two and two strokes in one line") {
    drawing::RecordedCanvas canvas;
    figures::draw_sign(canvas, {0, 0}, 10);
    REQUIRE(canvas.drawn().size() == 4);
    const auto& upper = std::get<drawing::DrawnStroke>(canvas.drawn()[2]).points;
    const auto& lower = std::get<drawing::DrawnStroke>(canvas.drawn()[3]).points;
    const double slope_upper = (upper[0].y - upper[1].y) / (upper[0].x - upper[1].x);
    const double slope_lower = (lower[0].y - lower[1].y) / (lower[0].x - lower[1].x);
    CHECK(slope_upper == doctest::Approx(slope_lower));
}
