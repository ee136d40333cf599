#include "figures/plot.hpp"

#include <doctest/doctest.h>

#include "drawing/recorded.hpp"

using namespace wm;
using namespace wm::figures;

TEST_CASE("the ends of the axes fall on the edges of the field") {
    const Plot plot{{0, 0, 100, 50}, {{0, 10}, {400, 500}, "min", "kPa", 2.4}};
    CHECK(plot.at(0, 400) == drawing::Point{plot.field().left, plot.field().bottom()});
    CHECK(plot.at(10, 500).x == doctest::Approx(plot.field().right()));
    CHECK(plot.at(10, 500).y == doctest::Approx(plot.field().top));
}

TEST_CASE("axes keep their numbers inside the box and apart") {
    drawing::RecordedCanvas canvas;
    const Plot plot{{0, 0, 60, 25}, {{0, 1440}, {-0.005, 0.02}, "min", "MPa", 2.4}};
    plot.draw_axes(canvas);
    CHECK(drawing::colliding_texts(canvas) == std::vector<std::string>{});
    CHECK(drawing::outside(canvas, {0, 0, 60, 25}) == std::vector<std::string>{});
}
