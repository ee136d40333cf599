#include "figures/control_chart.hpp"

#include <doctest/doctest.h>

#include "drawing/recorded.hpp"

using namespace wm;
using namespace wm::figures;
using drawing::RecordedCanvas;

namespace {

ControlChart season(int weeks, int signal_at) {
    ControlChart chart;
    chart.unit = "%";
    for (int week = 1; week <= weeks; ++week) {
        chart.points.push_back({"W" + std::to_string(week), week == signal_at ? 14.0 : 4.0, 4.5,
                                0.0, 10.0, week == signal_at});
    }
    return chart;
}

}  // namespace

TEST_CASE("a week that signals has a shape of its own") {
    const auto rings = [](const ControlChart& chart) {
        RecordedCanvas canvas;
        draw_control_chart(canvas, {0, 0, 170, 45}, chart);
        int count = 0;
        for (const auto& drawn : canvas.drawn()) {
            const auto* circle = std::get_if<drawing::DrawnCircle>(&drawn);
            if (circle != nullptr && circle->stroke.width_mm > 0.0) ++count;
        }
        return count;
    };
    CHECK(rings(season(10, 0)) == 0);
    CHECK(rings(season(10, 4)) == 1);
}

TEST_CASE("week labels thin out instead of colliding") {
    for (const int weeks : {1, 12, 52, 104}) {
        CAPTURE(weeks);
        RecordedCanvas canvas;
        draw_control_chart(canvas, {0, 0, 170, 45}, season(weeks, 1));
        CHECK(drawing::colliding_texts(canvas) == std::vector<std::string>{});
    }
}

TEST_CASE("the places of the points are where their marks stand") {
    RecordedCanvas canvas;
    const auto places = draw_control_chart(canvas, {0, 0, 170, 45}, season(10, 4));
    REQUIRE(places.size() == 10);
    std::vector<double> discs;
    for (const auto& drawn : canvas.drawn())
        if (const auto* circle = std::get_if<drawing::DrawnCircle>(&drawn); circle != nullptr && circle->stroke.width_mm > 0.0) {
            CHECK(circle->centre.x == doctest::Approx(places[3].x));
            CHECK(circle->centre.y == doctest::Approx(places[3].y));
        }
    CHECK(places[3].y < places[2].y);
    CHECK(places[9].x > places[8].x);
    CHECK(draw_control_chart(canvas, {0, 0, 170, 45}, {}).empty());
}
