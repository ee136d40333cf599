#include "figures/series_chart.hpp"

#include <doctest/doctest.h>

#include "drawing/recorded.hpp"

using namespace wm;
using namespace wm::figures;
using drawing::RecordedCanvas;

TEST_CASE("a chart of two channels names both, apart from each other") {
    SeriesChart chart;
    chart.unit = "°C";
    chart.lines = {{"riser", {{0, 40}, {10, 40.1}}}, {"downcomer", {{0, 39.9}, {10, 40}}}};
    RecordedCanvas canvas;
    draw_series_chart(canvas, {0, 0, 85, 35}, chart);
    CHECK(drawing::colliding_texts(canvas) == std::vector<std::string>{});
    CHECK(drawing::outside(canvas, {0, 0, 85, 35}) == std::vector<std::string>{});
}

TEST_CASE("one single reading is drawn and none says so in words") {
    SeriesChart chart;
    chart.lines = {{"", {{3, 480}}}};
    RecordedCanvas one;
    draw_series_chart(one, {0, 0, 85, 35}, chart);
    CHECK(!one.drawn().empty());
    RecordedCanvas none;
    draw_series_chart(none, {0, 0, 85, 35}, {});
    CHECK(drawing::texts_of(none).front().words == "no readings yet");
}
