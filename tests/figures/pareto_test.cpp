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

TEST_CASE("names above their bars leave each bar a strip of a finger, in the order of the counts") {
    ParetoChart chart;
    chart.text_mm = 4.4;
    chart.names = ParetoNames::Above;
    chart.bars = {{"tilt", 1}, {"pipe ends", 14}};
    RecordedCanvas canvas;
    const drawing::Box box{0, 0, 100, pareto_height(chart)};
    const auto strips = draw_pareto(canvas, box, chart);
    REQUIRE(strips.size() == 2);
    for (const auto& strip : strips) CHECK(strip.height >= 14.0);
    CHECK(strips[0].bottom() <= strips[1].top + 1e-9);
    CHECK(drawing::outside(canvas, box) == std::vector<std::string>{});
    CHECK(drawing::colliding_texts(canvas) == std::vector<std::string>{});
    for (const auto& text : drawing::texts_of(canvas)) {
        CAPTURE(text.words);
        const bool of_first = text.words == "pipe ends" || text.words == "14" || text.words == "93 %";
        if (of_first) {
            CHECK(text.at.y > strips[0].top);
            CHECK(text.at.y < strips[0].bottom());
        }
        CHECK(text.style.size_mm >= chart.text_mm);
    }
}
