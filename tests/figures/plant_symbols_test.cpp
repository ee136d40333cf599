#include "figures/plant_symbols.hpp"

#include <doctest/doctest.h>

#include "drawing/recorded.hpp"

using namespace wm;
using namespace wm::figures;

TEST_CASE("a symbol turned with the flow keeps its size") {
    for (const double flow : {0.0, 90.0, 180.0, 270.0}) {
        CAPTURE(flow);
        drawing::RecordedCanvas canvas;
        const Frame frame{100, 100, {0, 0, 100, 100}};
        draw_non_return(canvas, frame, {{50, 50}, 2.0, flow});
        CHECK(drawing::outside(canvas, {47.9, 47.9, 4.2, 4.2}) == std::vector<std::string>{});
        CHECK(canvas.drawn().size() == 3);
    }
}
