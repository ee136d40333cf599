#include "figures/funnel_chart.hpp"

#include <doctest/doctest.h>

#include "drawing/recorded.hpp"

using namespace wm;
using namespace wm::figures;
using drawing::RecordedCanvas;

namespace {

FunnelChart crews(bool outside) {
    FunnelChart chart;
    chart.target = 0.1;
    chart.marks = {{"Bramblewisp", 180.0, 0.09, false}, {"Thimblegate", 60.0, 0.3, outside}};
    for (const double tries : {1.0, 20.0, 60.0, 180.0}) chart.steps.push_back({tries, 0.02, 0.2, 0.0, 0.25});
    return chart;
}

int rings(const FunnelChart& chart) {
    RecordedCanvas canvas;
    draw_funnel_chart(canvas, {0, 0, 80, 50}, chart);
    int count = 0;
    for (const auto& drawn : canvas.drawn()) {
        const auto* circle = std::get_if<drawing::DrawnCircle>(&drawn);
        if (circle != nullptr && circle->stroke.width_mm > 0.0) ++count;
    }
    return count;
}

}  // namespace

TEST_CASE("a crew outside the funnel has a shape of its own") {
    CHECK(rings(crews(false)) == 0);
    CHECK(rings(crews(true)) == 1);
}

TEST_CASE("everything of the funnel lies within its box, and without crews it says so") {
    for (const auto& chart : {crews(true), FunnelChart{}}) {
        RecordedCanvas canvas;
        const drawing::Box box{10, 10, 80, 50};
        draw_funnel_chart(canvas, box, chart);
        CHECK_FALSE(canvas.drawn().empty());
        for (const auto& drawn : canvas.drawn())
            if (const auto* circle = std::get_if<drawing::DrawnCircle>(&drawn)) {
                CHECK(circle->centre.x > box.left);
                CHECK(circle->centre.x < box.right());
                CHECK(circle->centre.y > box.top);
                CHECK(circle->centre.y < box.bottom());
            }
    }
}

TEST_CASE("each crew has its place, further right with more tries and higher with a larger share") {
    RecordedCanvas canvas;
    const auto places = draw_funnel_chart(canvas, {10, 10, 80, 50}, crews(false));
    REQUIRE(places.size() == 2);
    CHECK(places[0].x > places[1].x);
    CHECK(places[0].y > places[1].y);
}
