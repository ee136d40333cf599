// The field of a chart with its axes; shared by all charts.
#pragma once

#include <string>
#include <vector>

#include "drawing/canvas.hpp"
#include "figures/axis.hpp"

namespace wm::figures {

/// What the axes show. Empty tick labels are left out.
struct PlotAxes {
    Span x;
    Span y;
    std::string x_unit;
    std::string y_unit;
    double text_mm = 2.4;
};

/// A field inside a box, with room for the numbers left and below.
class Plot {
public:
    Plot(drawing::Box into, const PlotAxes& axes);

    [[nodiscard]] const drawing::Box& field() const { return field_; }
    [[nodiscard]] drawing::Point at(double x, double y) const {
        return {placed(x, axes_.x, field_.left, field_.right()),
                placed(y, axes_.y, field_.bottom(), field_.top)};
    }
    /// Grid, numbers and units.
    void draw_axes(drawing::Canvas& on) const;
    /// Only the numbers of the y axis and its grid.
    void draw_y_axis(drawing::Canvas& on) const;

private:
    PlotAxes axes_;
    drawing::Box field_;
};

/// Discs, squares, diamonds and rings, for the first, second, third and fourth line of a chart.
void draw_point_mark(drawing::Canvas& on, int line, drawing::Point centre, double size_mm,
                     drawing::Ink ink);

}  // namespace wm::figures
