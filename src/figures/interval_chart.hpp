// Shares with their intervals, one row each, so that small numbers look as unsure as they are.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "drawing/canvas.hpp"

namespace wm::figures {

/// `low` to `high` is the interval of the share (Wilson's, in the week audit); all between 0 and 1.
struct IntervalRow {
    std::string name;
    int count = 0;
    int tries = 0;
    double share = 0.0, low = 0.0, high = 1.0;
    bool marked = false;  ///< a finding speaks of this row
};

struct IntervalChart {
    std::vector<IntervalRow> rows;
    std::optional<double> all;  ///< the share over all rows, drawn as a dashed line
    std::string all_name = "all";
    double text_mm = 2.6;
};

/// Height the chart takes for its rows.
[[nodiscard]] double interval_chart_height(const IntervalChart& chart);

/// One row a line: name, counts, interval as a bar with its ends, share as a mark. The scale goes
/// from 0 to the largest upper end, at least 10 %. A marked row carries a triangle before its name.
void draw_interval_chart(drawing::Canvas& on, drawing::Box into, const IntervalChart& chart);

}  // namespace wm::figures
