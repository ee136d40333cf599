// Readings over time with the tolerance as a band.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "drawing/canvas.hpp"
#include "drawing/shapes.hpp"

namespace wm::figures {

struct SeriesPoint {
    double minutes = 0.0;
    double value = 0.0;
};

/// One line of readings. Lines are told apart by marks (disc, square, diamond, ring) and by their
/// name at the last point.
struct SeriesLine {
    std::string name;
    std::vector<SeriesPoint> points;  ///< in the order of time
};

struct SeriesChart {
    std::vector<SeriesLine> lines;    ///< at most four
    std::optional<double> low, high;  ///< the band the readings must keep; a missing side is open
    std::optional<double> until;      ///< minutes the axis reaches to at least, from 0: while it runs
    std::string unit;
    std::string time_unit = "min";
    double text_mm = 2.4;
};

/// Fills the box; at least 60 mm by 25 mm looks right. Without a point the box says so.
void draw_series_chart(drawing::Canvas& on, drawing::Box into, const SeriesChart& chart);

}  // namespace wm::figures
