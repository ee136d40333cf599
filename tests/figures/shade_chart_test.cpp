#include "figures/shade_chart.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "drawing/recorded.hpp"

using namespace wm;
using namespace wm::figures;

namespace {

std::vector<drawing::Box> bars_of(const drawing::RecordedCanvas& canvas) {
    std::vector<drawing::Box> bars;
    for (const auto& drawn : canvas.drawn())
        if (const auto* box = std::get_if<drawing::DrawnBox>(&drawn)) bars.push_back(box->box);
    return bars;
}

}  // namespace

TEST_CASE("each month's box is as high as its share, on a scale that holds the largest") {
    struct Row {
        double largest, top;
    };
    for (const auto& row : {Row{0.2, 0.25}, Row{0.4, 0.5}, Row{0.9, 1.0}}) {
        CAPTURE(row.largest);
        drawing::RecordedCanvas canvas;
        draw_shade_chart(canvas, {10, 20, 100, 30}, {{{"Jan", row.largest}, {"Feb", row.largest / 2.0}, {"Mar", 0.0}}, 2.6});
        const auto bars = bars_of(canvas);
        REQUIRE(bars.size() == 3);
        const double field = 30.0 - 2.0 * 1.4 * 2.6;
        CHECK(std::abs(bars[0].height - field * row.largest / row.top) < 1e-9);
        CHECK(std::abs(bars[1].height - bars[0].height / 2.0) < 1e-9);
        CHECK(bars[2].height == 0.0);
        CHECK(drawing::outside(canvas, {10, 20, 100, 30}).empty());
    }
}

TEST_CASE("without months nothing is drawn") {
    drawing::RecordedCanvas canvas;
    draw_shade_chart(canvas, {0, 0, 100, 30}, {});
    CHECK(canvas.drawn().empty());
}
