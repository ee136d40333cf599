#include "figures/interval_chart.hpp"

#include <doctest/doctest.h>

#include "drawing/recorded.hpp"

using namespace wm;
using namespace wm::figures;
using drawing::RecordedCanvas;

TEST_CASE("every row shows its counts beside its interval, inside the given height") {
    IntervalChart chart;
    chart.all = 0.1;
    chart.rows = {{"Thimblegate", 14, 44, 0.318, 0.2, 0.466, true},
                  {"Owlcroft", 0, 3, 0.0, 0.0, 0.56, false},
                  {"nobody yet", 0, 0, 0.0, 0.0, 1.0, false}};
    RecordedCanvas canvas;
    const drawing::Box box{0, 0, 100, interval_chart_height(chart)};
    draw_interval_chart(canvas, box, chart);
    CHECK(drawing::outside(canvas, box) == std::vector<std::string>{});
    CHECK(drawing::colliding_texts(canvas) == std::vector<std::string>{});
    int counts = 0;
    for (const auto& text : drawing::texts_of(canvas)) {
        if (text.words == "14 of 44" || text.words == "0 of 3" || text.words == "0 of 0") ++counts;
    }
    CHECK(counts == 3);
}
