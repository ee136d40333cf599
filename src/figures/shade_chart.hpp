// How much of the direct sun hills, trees and houses take, month by month.
#pragma once

#include <string>
#include <vector>

#include "drawing/canvas.hpp"

namespace wm::figures {

struct ShadeMonth {
    std::string name;    ///< "Jan"
    double share = 0.0;  ///< 0 to 1
};

struct ShadeChart {
    std::vector<ShadeMonth> months;
    double text_mm = 2.6;
};

/// One box a month, its share in per cent above it. The scale ends at 25, 50 or 100 %, whichever holds
/// the largest; a mark at the left says how much. Nothing is drawn without months.
void draw_shade_chart(drawing::Canvas& on, drawing::Box into, const ShadeChart& chart);

}  // namespace wm::figures
