// What fails most, largest first, with the running share of the whole.
#pragma once

#include <string>
#include <vector>

#include "drawing/canvas.hpp"

namespace wm::figures {

struct ParetoBar {
    std::string name;
    int count = 0;
};

/// Bars are sorted here; beyond `most` bars the rest is one bar "n others" at the end.
struct ParetoChart {
    std::vector<ParetoBar> bars;
    int most = 8;
    double text_mm = 2.6;
};

/// Height the chart takes for its bars.
[[nodiscard]] double pareto_height(const ParetoChart& chart);

/// Level bars with their counts, and at the right the running share of all in per cent.
void draw_pareto(drawing::Canvas& on, drawing::Box into, const ParetoChart& chart);

}  // namespace wm::figures
