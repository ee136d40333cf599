// The pen of the sketches: a sheet of 120 by 70 units fitted into a box.
#pragma once

#include <initializer_list>
#include <string_view>
#include <vector>

#include "drawing/canvas.hpp"
#include "drawing/shapes.hpp"
#include "figures/frame.hpp"

namespace wm::figures {

class SketchPen {
public:
    SketchPen(drawing::Canvas& on, drawing::Box into) : on_{on}, frame_{120.0, 70.0, into} {}

    [[nodiscard]] drawing::Point at(double x, double y) const { return frame_.at(x, y); }
    [[nodiscard]] double mm(double units) const { return frame_.mm(units); }

    void line(std::initializer_list<drawing::Point> points, double width = 0.6, drawing::Ink ink = drawing::Ink::Text) {
        on_.stroke(placed(points), drawing::Ends::Open, {ink, mm(width)});
    }
    void shape(std::initializer_list<drawing::Point> points, drawing::Ink inside, double width = 0.6) {
        const auto corners = placed(points);
        on_.fill(corners, inside);
        on_.stroke(corners, drawing::Ends::Closed, {drawing::Ink::Text, mm(width)});
    }
    void disc(double x, double y, double radius, drawing::Ink inside, double width = 0.6) {
        on_.fill_circle(at(x, y), mm(radius), inside);
        on_.stroke_circle(at(x, y), mm(radius), {drawing::Ink::Text, mm(width)});
    }
    void dashes(drawing::Point from, drawing::Point to, double width = 0.4) {
        drawing::dashed_line(on_, at(from.x, from.y), at(to.x, to.y), {drawing::Ink::Text, mm(width)}, {mm(2.0), mm(1.4)});
    }
    void arrow(drawing::Point from, drawing::Point to, drawing::Ink ink = drawing::Ink::Accent) {
        drawing::arrow(on_, at(from.x, from.y), at(to.x, to.y), mm(3.4), {ink, mm(0.9)});
    }
    /// Degrees clockwise from the right.
    void arc(double x, double y, double radius, double from_deg, double to_deg, drawing::Ink ink = drawing::Ink::Accent) {
        drawing::stroke_arc(on_, {at(x, y), mm(radius), from_deg, to_deg}, {ink, mm(0.8)});
    }
    void words(double x, double y, std::string_view text, drawing::Anchor anchor = drawing::Anchor::Start,
               drawing::Weight weight = drawing::Weight::Regular) {
        on_.text(at(x, y), text, {mm(4.0), weight, drawing::Ink::Text, anchor});
    }
    void valve(double x, double y, double half) {
        shape({{x - half, y - half}, {x - half, y + half}, {x, y}}, drawing::Ink::Paper);
        shape({{x + half, y - half}, {x + half, y + half}, {x, y}}, drawing::Ink::Paper);
    }
    /// So it is right, so it is wrong: told by shape.
    void right(double x, double y) { line({{x - 2.6, y}, {x - 0.7, y + 2.2}, {x + 3.0, y - 2.8}}, 1.2, drawing::Ink::Good); }
    void wrong(double x, double y) {
        line({{x - 2.4, y - 2.4}, {x + 2.4, y + 2.4}}, 1.2, drawing::Ink::Bad);
        line({{x - 2.4, y + 2.4}, {x + 2.4, y - 2.4}}, 1.2, drawing::Ink::Bad);
    }

private:
    [[nodiscard]] std::vector<drawing::Point> placed(std::initializer_list<drawing::Point> points) const {
        std::vector<drawing::Point> out;
        for (const auto& point : points) out.push_back(at(point.x, point.y));
        return out;
    }

    drawing::Canvas& on_;
    Frame frame_;
};

// One function for each sketch; those of the roof and those of water stand in files of their own.
void sketch_torque(SketchPen& pen);
void sketch_tilt(SketchPen& pen);
void sketch_shadow_azimuth(SketchPen& pen);
void sketch_ladder(SketchPen& pen);
void sketch_loop_slope(SketchPen& pen);
void sketch_refractometer(SketchPen& pen);
void sketch_discharge_pipe(SketchPen& pen);
void sketch_insulation_ends(SketchPen& pen);
void sketch_pipe_sensor(SketchPen& pen);
void sketch_holding_test(SketchPen& pen);
void sketch_tap_temperature(SketchPen& pen);

}  // namespace wm::figures
