#include "figures/place_map.hpp"

#include <algorithm>
#include <array>
#include <optional>

#include "figures/frame.hpp"
#include "figures/outcome_mark.hpp"

namespace wm::figures {
namespace {

using drawing::Anchor;
using drawing::Canvas;
using drawing::Ends;
using drawing::Ink;
using drawing::Point;
using drawing::Weight;

struct Named {
    std::string_view place;
    Point at;
};

// Joints and stretches of the loop on a sheet of 100 by 56: collector low on the left, store above it, heater in the house.
constexpr std::array joints{
    Named{"collector in", {7, 50}},      Named{"collector out", {33, 30}},     Named{"store loop upper", {41, 14}},
    Named{"store loop lower", {41, 23}}, Named{"store hot", {63, 10}},         Named{"store cold", {63, 23}},
    Named{"hot loop", {37, 22}},         Named{"cold loop", {26, 46}},         Named{"hot lower half", {34, 26}},
    Named{"hot upper half", {38, 17}},   Named{"cold pipe", {26, 46}},         Named{"roof passage", {68, 30}},
    Named{"preheated run", {75, 26}},    Named{"feed valves", {63, 44}},       Named{"valves", {63, 44}},
    Named{"heater in", {82, 26}},        Named{"heater out", {93, 26}},        Named{"water line", {63, 53}},
    Named{"heater terminals", {88, 46}}, Named{"collector joints", {20, 40}},  Named{"store joints", {52, 16}},
    Named{"heater joints", {88, 26}},    Named{"vessel foot", {53, 44}},       Named{"jacket cap", {52, 7}},
    Named{"upper row", {52, 10}},        Named{"lower row", {52, 24}},
};
constexpr std::array brackets{std::string_view{"anchor-torque"}, std::string_view{"anchor-pull"}, std::string_view{"members-found"},
                              std::string_view{"hook-gap"}, std::string_view{"coll-clamps"}};

bool is_bracketed(std::string_view check) { return std::find(brackets.begin(), brackets.end(), check) != brackets.end(); }

std::optional<Point> joint_at(std::string_view place) {
    for (const auto& joint : joints)
        if (joint.place == place) return joint.at;
    return std::nullopt;
}

/// Two rows within the outline, the upper one longer where the number is odd.
Point bracket_at(std::size_t index, std::size_t count) {
    const std::size_t above = (count + 1) / 2;
    const bool upper = index < above;
    const std::size_t in_row = upper ? above : count - above;
    const std::size_t column = upper ? index : index - above;
    const double step = 76.0 / static_cast<double>(in_row);
    return {12.0 + step * (static_cast<double>(column) + 0.5), upper ? 18.0 : 40.0};
}

/// How many are counted "1", "2" … from the start.
std::size_t counted_in(const std::vector<std::string>& places) {
    std::size_t count = 0;
    while (count < places.size() && places[count] == std::to_string(count + 1)) ++count;
    return count;
}

void line(Canvas& on, const Frame& frame, std::initializer_list<Point> points, double width, Ink ink) {
    std::vector<Point> placed;
    for (const auto& point : points) placed.push_back(frame.at(point));
    on.stroke(placed, Ends::Open, {ink, frame.mm(width)});
}

void label(Canvas& on, const Frame& frame, Point at, std::string_view words) {
    // Capitals of 2 mm at least.
    on.text(frame.at(at), words, {std::max(2.75, frame.mm(4.4)), Weight::Regular, Ink::Faint, Anchor::Middle});
}

void draw_outline(Canvas& on, const Frame& frame, bool collector) {
    on.stroke_box(frame.at(drawing::Box{10, 12, 80, 34}), frame.mm(collector ? 1.0 : 8.0), {Ink::Text, frame.mm(0.6)});
    label(on, frame, {50, 30.5}, collector ? "collector" : "store");
    label(on, frame, {50, 6.5}, "ridge");
    label(on, frame, {50, 54}, "eaves");
}

void draw_loop(Canvas& on, const Frame& frame) {
    line(on, frame, {{6, 51}, {34, 31}, {37, 34}, {9, 54}, {6, 51}}, 0.6, Ink::Text);
    on.stroke_box(frame.at(drawing::Box{41, 8, 22, 18}), frame.mm(5.0), {Ink::Text, frame.mm(0.6)});
    line(on, frame, {{33, 30}, {41, 14}}, 0.8, Ink::Hot);
    line(on, frame, {{41, 23}, {44, 46}, {7, 52}}, 0.8, Ink::Cold);
    line(on, frame, {{63, 23}, {63, 56}}, 0.8, Ink::Cold);
    line(on, frame, {{63, 10}, {68, 10}, {68, 34}, {75, 34}, {75, 26}, {82, 26}}, 0.8, Ink::Hot);
    on.stroke_box(frame.at(drawing::Box{79, 27, 17, 24}), frame.mm(3.0), {Ink::Text, frame.mm(0.6)});
    line(on, frame, {{93, 27}, {93, 18}, {99, 18}}, 0.8, Ink::Hot);
    label(on, frame, {52, 20}, "store");
    label(on, frame, {14, 36}, "collector");
    label(on, frame, {87.5, 40}, "heater");
}

}  // namespace

bool has_place_map(std::string_view check, const std::vector<std::string>& places) {
    if (is_bracketed(check)) return counted_in(places) >= 2 && counted_in(places) <= 12;
    return std::count_if(places.begin(), places.end(), [](const std::string& place) { return joint_at(place).has_value(); }) >= 2;
}

std::vector<MapPlace> draw_place_map(Canvas& on, drawing::Box into, std::string_view check, const std::vector<MapSpot>& spots) {
    std::vector<std::string> names;
    for (const auto& spot : spots) names.push_back(spot.place);
    if (!has_place_map(check, names)) return {};
    const Frame frame{100.0, 58.0, into};
    const bool counted = is_bracketed(check);
    const std::size_t count = counted_in(names);
    if (counted) draw_outline(on, frame, check == "coll-clamps");
    else draw_loop(on, frame);
    std::vector<MapPlace> drawn;
    for (std::size_t i = 0; i < spots.size(); ++i) {
        const auto own = counted ? (i < count ? std::optional{bracket_at(i, count)} : std::nullopt) : joint_at(spots[i].place);
        if (!own) continue;
        const Point centre = frame.at(*own);
        const double size = std::max(3.0, frame.mm(5.6));
        if (spots[i].current) {
            on.fill_circle(centre, size * 0.82, Ink::Accent);
            on.fill_circle(centre, size * 0.6, Ink::Paper);
        } else {
            on.fill_circle(centre, size * 0.55, Ink::Paper);
        }
        draw_outcome_mark(on, spots[i].outcome, centre, size);
        drawn.push_back({spots[i].place, centre});
    }
    return drawn;
}

}  // namespace wm::figures
