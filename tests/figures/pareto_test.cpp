#include "figures/pareto.hpp"

#include <doctest/doctest.h>

#include "drawing/recorded.hpp"

using namespace wm;
using namespace wm::figures;
using drawing::RecordedCanvas;

TEST_CASE("the largest bar comes first and what is left over is one bar at the end") {
    ParetoChart chart;
    chart.most = 2;
    chart.bars = {{"tilt", 1}, {"pipe ends", 14}, {"lever", 8}, {"azimuth", 1}};
    RecordedCanvas canvas;
    const drawing::Box box{0, 0, 100, pareto_height(chart)};
    draw_pareto(canvas, box, chart);
    std::vector<std::string> words;
    for (const auto& text : drawing::texts_of(canvas)) words.push_back(text.words);
    CHECK(words == std::vector<std::string>{"running share", "pipe ends", "14", "58 %", "lever",
                                            "8", "92 %", "2 others", "2", "100 %"});
    CHECK(drawing::outside(canvas, box) == std::vector<std::string>{});
}
