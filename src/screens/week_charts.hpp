// The charts of the week in the window: what stands behind a point or bar is shown when it is pressed.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

/// A point or bar that a finger left.
struct ChartPress {
    std::string subject, check;  ///< check empty where it is about all of them
    std::vector<std::string> jobs;
    std::string week;  ///< of a point of the season; empty for others
};

/// Season, what fails most, crews: each where there is something to draw.
[[nodiscard]] std::optional<ChartPress> week_charts(Touch& touch, ScrollArea& area, const desk::WeekView& week);

/// What the finding compares, as shares with their intervals or as the readings of a gauge; nothing where it compares none.
void finding_chart(Touch& touch, ScrollArea& area, const desk::WeekView& week, const desk::FindingView& finding);

}  // namespace wm::screens
