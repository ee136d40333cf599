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

/// Where the name of a bar stands: beside it at the left, or above it where a finger must hit it or names are long.
enum class ParetoNames { Beside, Above };

/// Bars are sorted here; beyond `most` bars the rest is one bar "n others" at the end.
struct ParetoChart {
    std::vector<ParetoBar> bars;
    int most = 8;
    double text_mm = 2.6;
    ParetoNames names = ParetoNames::Beside;
};

/// Height the chart takes for its bars.
[[nodiscard]] double pareto_height(const ParetoChart& chart);

/// Level bars with their counts, and at the right the running share of all in per cent. Gives the strip of each bar with
/// its name, largest first; the last may be the one of all others.
std::vector<drawing::Box> draw_pareto(drawing::Canvas& on, drawing::Box into, const ParetoChart& chart);

}  // namespace wm::figures
