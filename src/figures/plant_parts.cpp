#include "figures/plant_parts.hpp"

#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "drawing/shapes.hpp"
#include "figures/plant_symbols.hpp"

namespace wm::figures {

using drawing::Box;
using drawing::Canvas;
using drawing::Ends;
using drawing::Ink;
using drawing::Point;
using drawing::Stroke;

namespace {

// Corners of the house in the drawing's own coordinates.
constexpr Point eave{8, 98};
constexpr Point ridge{82, 47};
constexpr Point right_eave{188, 61};
constexpr double ground_y = 123.0;
constexpr double left_wall_x = 14.0;
constexpr double right_wall_x = 183.0;
constexpr double slab_y = 98.0;

/// The point `along` the left slope from the eave and `above` it, square to the roof.
Point on_slope(double along, double above) {
    const double length = std::hypot(ridge.x - eave.x, ridge.y - eave.y);
    const double ux = (ridge.x - eave.x) / length;
    const double uy = (ridge.y - eave.y) / length;
    return {eave.x + along * ux + above * uy, eave.y + along * uy - above * ux};
}

struct Brush {
    Canvas& on;
    const Frame& frame;

    void path(std::vector<Point> own, Ink ink, double width) const {
        for (Point& p : own) p = frame.at(p);
        on.stroke(own, Ends::Open, {ink, frame.mm(width)});
    }
    void shape(std::vector<Point> own, Ink inside, Ink rim, double width) const {
        for (Point& p : own) p = frame.at(p);
        on.fill(own, inside);
        on.stroke(own, Ends::Closed, {rim, frame.mm(width)});
    }
    void word(Point own, std::string_view words,
              drawing::Anchor anchor = drawing::Anchor::Start) const {
        const double em = frame.mm(2.5);
        if (em < least_em_mm) return;
        on.text(frame.at(own), words,
                {em, drawing::Weight::Regular, Ink::Faint, anchor});
    }
};

Ink rim_ink(Finish finish) {
    return finish == Finish::Complete ? Ink::Text : Ink::Faint;
}
double rim_width(Finish finish) {
    return finish == Finish::Complete ? 0.45 : 0.25;
}

/// A pipe in full is a thick line in the colour of what it carries; sketched it is thin and grey.
void pipe(const Brush& brush, std::vector<Point> run, Ink carries, Finish finish) {
    if (finish == Finish::Complete) {
        brush.path(run, Ink::Text, 1.3);
        brush.path(std::move(run), carries, 0.8);
    } else {
        brush.path(std::move(run), Ink::Faint, 0.35);
    }
}

void draw_covering(const Brush& brush, Covering covering, Finish finish) {
    const Ink ink = rim_ink(finish);
    const double length = std::hypot(ridge.x - eave.x, ridge.y - eave.y);
    const double pitch = covering == Covering::MetalSheet ? 6.0
                         : covering == Covering::Slate    ? 2.6
                                                          : 4.0;
    for (double along = 1.0; along + pitch <= length; along += pitch) {
        if (covering == Covering::Tile) {
            brush.path({on_slope(along, 0.2), on_slope(along + 0.5 * pitch, 1.1),
                        on_slope(along + pitch, 0.2)},
                       ink, 0.25);
        } else if (covering == Covering::MetalSheet) {
            brush.path({on_slope(along, 0.0), on_slope(along, 1.2)}, ink, 0.3);
        } else if (covering == Covering::Slate) {
            brush.path({on_slope(along, 0.9), on_slope(along + 1.3 * pitch, 0.2)}, ink, 0.25);
        }
    }
}

void draw_frame_on_slab(const Brush& brush, Finish finish) {
    const Ink ink = rim_ink(finish);
    const double width = rim_width(finish);
    brush.path({on_slope(4, 0), on_slope(58, 0)}, ink, width);
    for (const double along : {6.0, 30.0, 54.0}) {
        const Point top = on_slope(along, 0);
        brush.path({top, {top.x, slab_y}}, ink, width);
    }
    brush.path({{4, slab_y}, {ridge.x, slab_y}}, ink, 1.2);
    brush.path({{ridge.x, slab_y}, {ridge.x, ridge.y}}, ink, width);
}

void draw_house(const Brush& brush, const PlantShape& shape, Finish roof) {
    const Ink ink = rim_ink(roof);
    brush.path({{0, ground_y}, {plant_width, ground_y}}, Ink::Faint, 0.5);
    brush.path({{left_wall_x, shape.covering == Covering::FlatSlab ? slab_y : 94.0},
                {left_wall_x, ground_y}},
               Ink::Faint, 0.4);
    brush.path({{right_wall_x, 60.5}, {right_wall_x, ground_y}}, Ink::Faint, 0.4);
    brush.path({ridge, right_eave}, ink, rim_width(roof) + 0.2);
    if (shape.covering == Covering::FlatSlab) {
        draw_frame_on_slab(brush, roof);
    } else {
        brush.path({eave, ridge}, ink, rim_width(roof) + 0.2);
        draw_covering(brush, shape.covering, roof);
    }
}

void draw_collector(const Brush& brush, Finish finish) {
    brush.shape({on_slope(10, 6), on_slope(52, 6), on_slope(52, 10), on_slope(10, 10)},
                finish == Finish::Complete ? Ink::Tint : Ink::Paper, rim_ink(finish),
                rim_width(finish));
    brush.path({on_slope(11, 7.2), on_slope(51, 7.2)},
               finish == Finish::Complete ? Ink::Text : Ink::Faint, 0.9);
    for (const double along : {13.0, 49.0}) {
        brush.path({on_slope(along, 0), on_slope(along, 6)}, rim_ink(finish), 0.4);
    }
}

/// Corner points of the store and where its pipes join.
struct StoreSeat {
    Box shell;
    Point riser_port, downcomer_port, cold_port, hot_port, top;
};

/// A place nobody has stated gets the seat that has more room around it.
StoreSeat store_seat(std::optional<StorePlace> place) {
    if (place != StorePlace::CloseCoupled) {
        return {{62, 14, 18, 28}, {62, 20}, {62, 38}, {80, 38}, {80, 18}, {71, 14}};
    }
    return {{54, 31, 26, 19}, {54, 35}, {54, 47}, {80, 46}, {80, 34}, {67, 31}};
}

/// Dashes and a question mark: there is a store, and nobody has said where.
void draw_unplaced_store(const Brush& brush, const Box& shell) {
    constexpr double dash = 1.5;
    brush.on.fill_box(brush.frame.at(shell), brush.frame.mm(3), Ink::Paper);
    for (const double y : {shell.top, shell.bottom()})
        for (double x = shell.left; x + dash <= shell.right(); x += 2.0 * dash)
            brush.path({{x, y}, {x + dash, y}}, Ink::Faint, 0.35);
    for (const double x : {shell.left, shell.right()})
        for (double y = shell.top; y + dash <= shell.bottom(); y += 2.0 * dash)
            brush.path({{x, y}, {x, y + dash}}, Ink::Faint, 0.35);
    const double em = brush.frame.mm(7.0);
    if (em < least_em_mm) return;
    brush.on.text(brush.frame.at(shell.middle().x, shell.middle().y + 2.5), "?",
                  {em, drawing::Weight::Regular, Ink::Faint, drawing::Anchor::Middle});
}

void draw_store(const Brush& brush, const PlantShape& shape, Finish finish) {
    const StoreSeat seat = store_seat(shape.store);
    const Box& shell = seat.shell;
    if (!shape.store) return draw_unplaced_store(brush, shell);
    const double feet_y = shell.bottom();
    for (const double x : {shell.left + 3.0, shell.right() - 3.0}) {
        const double roof_y = eave.y + (x - eave.x) * (ridge.y - eave.y) / (ridge.x - eave.x);
        if (roof_y > feet_y) brush.path({{x, feet_y}, {x, roof_y}}, rim_ink(finish), 0.6);
    }
    const bool complete = finish == Finish::Complete;
    brush.on.fill_box(brush.frame.at(shell), brush.frame.mm(3), Ink::Paper);
    if (shape.loop == LoopKind::Indirect) {
        const Box jacket{shell.left + 1.0, shell.top + 4.0, shell.width - 2.0, shell.height - 6.0};
        brush.on.fill_box(brush.frame.at(jacket), brush.frame.mm(2),
                          complete ? Ink::Fluid : Ink::Tint);
    }
    const Box water{shell.left + 2.6, shell.top + 2.0, shell.width - 5.2, shell.height - 4.0};
    brush.on.fill_box(brush.frame.at(water), brush.frame.mm(2), Ink::Paper);
    if (complete) {
        const Box lower{water.left, water.middle().y, water.width, water.height / 2.0};
        const Box upper{water.left, water.top, water.width, water.height / 2.0};
        brush.on.fill_box(brush.frame.at(upper), brush.frame.mm(2), Ink::Hot);
        brush.on.fill_box(brush.frame.at(lower), brush.frame.mm(2), Ink::Cold);
    }
    brush.on.stroke_box(brush.frame.at(water), brush.frame.mm(2),
                        {rim_ink(finish), brush.frame.mm(0.3)});
    brush.on.stroke_box(brush.frame.at(shell), brush.frame.mm(3),
                        {rim_ink(finish), brush.frame.mm(rim_width(finish))});
}

double riser_x() {
    return on_slope(52, 8).x + 1.0;
}

void draw_loop(const Brush& brush, const PlantShape& shape, Finish finish) {
    const StoreSeat seat = store_seat(shape.store);
    const auto carries = [&](Ink water) {
        if (!shape.loop) return Ink::Hairline;
        return shape.loop == LoopKind::Indirect ? Ink::Fluid : water;
    };
    const Ink hot = carries(Ink::Hot);
    const Ink cool = carries(Ink::Cold);
    const Point top = on_slope(52, 8);
    pipe(brush,
         {top, {riser_x(), top.y - 2.0}, {riser_x(), seat.riser_port.y + 1.0}, seat.riser_port},
         hot, finish);
    const double fall_x = seat.downcomer_port.x - 2.0;
    const double along = (fall_x - eave.x) / 0.823;
    pipe(brush,
         {seat.downcomer_port,
          {fall_x, seat.downcomer_port.y + 1.0},
          on_slope(along, 3),
          on_slope(6, 3),
          on_slope(6, 8),
          on_slope(10, 8)},
         cool, finish);
    drawing::arrow(brush.on, brush.frame.at(riser_x() - 2.2, top.y - 4.0),
                   brush.frame.at(riser_x() - 2.2, top.y - 11.0), brush.frame.mm(2.0),
                   {Ink::Faint, brush.frame.mm(0.3)});
}

void draw_relief(const Brush& brush, const PlantShape& shape, Finish finish) {
    const StoreSeat seat = store_seat(shape.store);
    if (shape.feed == FeedKind::Vented) {
        brush.path({seat.top, {seat.top.x, 4.0}, {seat.top.x + 4.0, 4.0}, {seat.top.x + 4.0, 6.5}},
                   rim_ink(finish), 0.6);
        brush.word({seat.top.x - 2.0, 6.0}, "open vent", drawing::Anchor::End);
        return;
    }
    if (shape.feed != FeedKind::Mains || !shape.relief_valve) return;
    const double x = seat.top.x + 4.0;
    const double y = 7.0;
    pipe(brush, {{x, seat.shell.top}, {x, y}}, Ink::Hot, finish);
    pipe(brush, {{x, y}, {193, y}, {193, 112}}, Ink::Hairline, finish);
    draw_relief_valve(brush.on, brush.frame, {{x, y}, 2.4, 270.0});
    draw_tundish(brush.on, brush.frame, {193, 112});
    brush.path({{193, 114.6}, {193, ground_y}}, rim_ink(finish), 0.35);
    brush.word({188, 5.6}, "relief pipe, open at its end", drawing::Anchor::End);
}

void draw_feed(const Brush& brush, const PlantShape& shape, Finish finish) {
    const StoreSeat seat = store_seat(shape.store);
    const double x = 84.0;
    const double entry = seat.cold_port.y;
    pipe(brush, {{x, plant_height}, {x, entry}, seat.cold_port}, Ink::Cold, finish);
    brush.word({x + 2.0, plant_height - 0.8}, "cold water in");
    draw_stop_valve(brush.on, brush.frame, {{x, 116}, 2.3, 270.0});
    if (shape.feed != FeedKind::Mains) return;
    draw_strainer(brush.on, brush.frame, {{x, 108}, 2.3, 270.0});
    draw_pressure_limiter(brush.on, brush.frame, {{x, 99}, 2.3, 270.0});
    draw_non_return(brush.on, brush.frame, {{x, 90}, 2.3, 270.0});
    if (shape.expansion_vessel) {
        pipe(brush, {{x, 77}, {x + 6, 77}}, Ink::Cold, finish);
        draw_expansion_vessel(brush.on, brush.frame, {x + 8.4, 77}, 2.6);
    }
    pipe(brush, {{x, 84}, {x - 4, 84}}, Ink::Cold, finish);
    draw_stop_valve(brush.on, brush.frame, {{x - 5.5, 84}, 1.6, 180.0});
}

void draw_breaker(const Brush& brush, Finish finish) {
    brush.path({{150.9, 108.9}, {153.1, 111.1}}, rim_ink(finish), 0.35);
    brush.path({{150.9, 111.1}, {153.1, 108.9}}, rim_ink(finish), 0.35);
}

void draw_heater(const Brush& brush, Finish finish) {
    const Box shell{132, 80, 16, 32};
    brush.on.fill_box(brush.frame.at(shell), brush.frame.mm(2.5),
                      finish == Finish::Complete ? Ink::Tint : Ink::Paper);
    brush.on.stroke_box(brush.frame.at(shell), brush.frame.mm(2.5),
                        {rim_ink(finish), brush.frame.mm(rim_width(finish))});
    std::vector<Point> element{{148, 106}};
    for (int i = 0; i < 6; ++i) element.push_back({146.0 - 2.0 * i, i % 2 == 0 ? 104.6 : 107.4});
    brush.path(element, rim_ink(finish), 0.5);
    brush.path({{148, 106}, {152, 106}, {152, 113}, {157, 113}}, rim_ink(finish), 0.3);
    draw_earth(brush.on, brush.frame, {140, 112});
    brush.word({158, 114}, "own circuit");
    draw_breaker(brush, finish);
}

void draw_hot_side(const Brush& brush, const PlantShape& shape, Finish taps) {
    const StoreSeat seat = store_seat(shape.store);
    pipe(brush, {seat.hot_port, {90, seat.hot_port.y}, {90, 74}, {136, 74}, {136, 80}}, Ink::Hot,
         taps);
    if (!shape.mixing_valve) {
        pipe(brush, {{144, 80}, {144, 76}, {176, 76}}, Ink::Hot, taps);
    } else {
        pipe(brush, {{144, 80}, {144, 76}, {158, 76}}, Ink::Hot, taps);
        pipe(brush, {{84, 120}, {156, 120}, {156, 92}, {160, 88}, {160, 79}}, Ink::Cold, taps);
        pipe(brush, {{162, 76}, {172, 76}}, Ink::Tint, taps);
        draw_mixing_valve(brush.on, brush.frame, {{160, 76}, 2.6, 0.0});
    }
    draw_tap(brush.on, brush.frame, {178, 79});
}

void draw_controller(const Brush& brush, Finish finish) {
    const Box box{140, 64, 8, 6};
    brush.on.fill_box(brush.frame.at(box), brush.frame.mm(0.8), Ink::Paper);
    brush.on.stroke_box(brush.frame.at(box), brush.frame.mm(0.8),
                        {rim_ink(finish), brush.frame.mm(rim_width(finish))});
    brush.path({{141.5, 68.5}, {143.5, 66.5}, {145, 67.4}, {146.5, 65.4}}, rim_ink(finish), 0.3);
    drawing::dashed_line(brush.on, brush.frame.at(144, 70), brush.frame.at(144, 74.6),
                         {rim_ink(finish), brush.frame.mm(0.25)},
                         {brush.frame.mm(1.0), brush.frame.mm(0.7)});
}

void draw_lagging(const Brush& brush, const PlantShape& shape, Finish finish) {
    const StoreSeat seat = store_seat(shape.store);
    const double from = seat.hot_port.y + 4.0;
    for (double y = from; y < 45.0; y += 2.2) {
        brush.path({{88.4, y + 1.2}, {91.6, y}}, rim_ink(finish), 0.3);
    }
    for (const double x : {88.4, 91.6}) brush.path({{x, from}, {x, 46}}, rim_ink(finish), 0.25);
}

/// "not known: kind, feed": what no fact says. Empty if all is stated.
std::string not_known(const PlantShape& shape) {
    using Known = std::pair<bool, std::string_view>;
    std::string words;
    for (const auto& [known, word] :
         {Known{shape.loop.has_value(), "kind"}, Known{shape.feed.has_value(), "feed"},
          Known{shape.store.has_value(), "place of the store"}, Known{shape.controller.has_value(), "controller"},
          Known{!shape.roof_word.empty(), "roof covering"}}) {
        if (known) continue;
        words += words.empty() ? "not known: " : ", ";
        words += word;
    }
    return words;
}

}  // namespace

Point part_of(Station station, const PlantShape& shape) {
    const StoreSeat seat = store_seat(shape.store);
    switch (station) {
        case Station::Sky:
            return {14, 9};
        case Station::People:
            return {left_wall_x, 113};
        case Station::Roof:
            return {54, shape.covering == Covering::FlatSlab ? slab_y : 66.3};
        case Station::Collector:
            return on_slope(32, 9);
        case Station::Store:
            return {seat.shell.right() - 1.0, seat.shell.middle().y};
        case Station::Relief:
            if (!shape.feed) return seat.top;
            return shape.feed == FeedKind::Vented ? Point{seat.top.x + 4.0, 5.0} : Point{150, 7};
        case Station::Loop:
            return {riser_x(), 42};
        case Station::Feed:
            return {84, 94};
        case Station::Filling:
            return {84, 66};
        case Station::Heater:
            return {132, 96};
        case Station::Controller:
            return {148, 67};
        case Station::Taps:
            return {170, 76};
        case Station::Lagging:
            return {90, 41.5};
    }
    return {};
}

void draw_plant_parts(Canvas& on, const Frame& frame, const PlantShape& shape,
                      const Finishes& finishes) {
    const Brush brush{on, frame};
    const auto finish = [&](Station station) { return finish_of(finishes, station); };
    draw_sun(on, frame, {12, 9}, 3.6);
    draw_house(brush, shape, finish(Station::Roof));
    draw_feed(brush, shape, finish(Station::Feed));
    draw_loop(brush, shape, finish(Station::Loop));
    draw_collector(brush, finish(Station::Collector));
    draw_hot_side(brush, shape, finish(Station::Taps));
    draw_lagging(brush, shape, finish(Station::Lagging));
    draw_store(brush, shape, finish(Station::Store));
    draw_relief(brush, shape, finish(Station::Relief));
    draw_gauge(on, frame, {84, 66}, 2.6);
    draw_heater(brush, finish(Station::Heater));
    if (shape.controller == Fitting::Fitted) draw_controller(brush, finish(Station::Controller));
    brush.word({58, 70}, shape.roof_word.empty() ? std::string_view{"roof"} : shape.roof_word);
    if (const std::string words = not_known(shape); !words.empty()) brush.word({108, plant_height - 0.8}, words);
}

}  // namespace wm::figures
