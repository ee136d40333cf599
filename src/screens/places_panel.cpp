// Grid of places.
#include "screens/places_panel.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "figures/place_map.hpp"
#include "screens/label.hpp"
#include "screens/marks.hpp"
#include "screens/screen_canvas.hpp"

namespace wm::screens {
namespace {

using desk::CheckView;
using desk::PlaceView;

/// The main answer of a check that has parts is named by what it is, a part that is said with it by what is said.
std::string in_words(const PlaceView& place) {
    if (place.name.empty()) return place.form == desk::EntryForm::Number ? "the value" : "the answer";
    return place.said.empty() ? place.name : place.said;
}

/// What was read there; of a part that only speaks up where something is amiss, that it is so.
std::string beneath(const PlaceView& place) {
    if (!place.text.empty()) return place.text;
    if (place.required || place.name.empty()) return {};
    if (!place.said.empty()) return "with Save: yes";
    return place.form == desk::EntryForm::YesNo ? "only if not so" : "where it applies";
}

float cell_width_mm(const CheckView& check) {
    std::size_t longest = 0;
    for (const PlaceView& place : check.places)
        longest = std::max(longest, in_words(place).size());
    return longest <= 3 ? 24.0F : 42.0F;
}

Grid grid_for(const Touch& touch, const Rect& at, const CheckView& check) {
    return {.area = at,
            .per_row = fitting(at.w, touch.mm(cell_width_mm(check)), touch.gap()),
            .height = touch.key_side(),
            .gap = touch.gap()};
}

void choose(RunDraft& draft, const PlaceView& place) {
    const RunMode mode = draft.mode;
    const std::string done = draft.done, photo = draft.photo_path, caption = draft.caption;
    go_to_place(draft, place.name);
    // Whoever corrects or pictures one place may have meant the one beside it.
    draft.mode = mode;
    draft.done = done;
    draft.photo_path = photo;
    draft.caption = caption;
}

/// On a narrow key the unit would make the figure too small to be read, and stands beside the value anyway; another unit stays.
std::string figure_or_words(const Touch& touch, const Rect& at, const PlaceView& place) {
    std::string words = beneath(place);
    const std::string unit = ' ' + place.unit;
    if (at.w < touch.mm(30.0F) && !place.unit.empty() && words.ends_with(unit)) words.resize(words.size() - unit.size());
    return words;
}

bool place_key(Touch& touch, const Rect& at, const PlaceView& place, KeyState state) {
    const std::string name = place.name.empty() ? std::string{"all"} : place.name;
    const Pressed pressed = bare_key(touch, name, at, {.words = name, .small = beneath(place), .state = state});
    const bool dark = state == KeyState::Chosen;
    const auto letters = dark ? touch.theme.chosen_text : touch.theme.text;
    Rect inside = at.inset(touch.mm(1.0F));
    const Rect shape = cut_left(inside, std::min(inside.h, touch.mm(9.0F)), touch.mm(1.2F));
    if (dark) ground(touch, shape, touch.theme.paper);
    outcome_shape(touch, shape.inset(touch.mm(0.4F)), place.outcome);
    if (const std::string small = figure_or_words(touch, at, place); !small.empty()) {
        draw_label(touch, touch.named(name), cut_bottom(inside, inside.h * 0.45F), small,
                   {.face = Face::Small, .colour = letters});
    }
    draw_label(touch, touch.named(name), inside, in_words(place), {.face = Face::Body, .colour = letters});
    return pressed.released;
}

void step(const CheckView& check, RunDraft& draft, int by) {
    const int count = static_cast<int>(check.places.size());
    for (int i = 0; i < count; ++i) {
        if (check.places[static_cast<std::size_t>(i)].name != draft.place) continue;
        choose(draft, check.places[static_cast<std::size_t>(std::clamp(i + by, 0, count - 1))]);
        return;
    }
}

constexpr float map_width_mm = 56.0F;
constexpr float map_height_mm = 33.0F;

std::vector<std::string> names_of(const CheckView& check) {
    std::vector<std::string> names;
    for (const PlaceView& place : check.places) names.push_back(place.name);
    return names;
}

/// A map stands beside the keys where there is room for both.
bool has_map(const Touch& touch, float width, const CheckView& check) {
    return width >= touch.mm(map_width_mm + 46.0F) && figures::has_place_map(check.id, names_of(check));
}

/// The map, and the place that was touched in it.
void place_map(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft) {
    const auto finger = finger_up(touch, "map", at);
    panel(touch, at);
    std::vector<figures::MapSpot> spots;
    for (const PlaceView& place : check.places) spots.push_back({place.name, place.outcome, place.name == draft.place});
    ScreenCanvas canvas{touch, at};
    const auto places = figures::draw_place_map(canvas, canvas.sheet(), check.id, spots);
    for (const auto& one : places) {
        const float half = touch.mm(mark_reach_mm);
        note_spot(touch, "map " + one.place,
                  {at.x + touch.mm(static_cast<float>(one.centre.x)) - half, at.y + touch.mm(static_cast<float>(one.centre.y)) - half, 2.0F * half, 2.0F * half});
    }
    if (!finger) return;
    const drawing::Point where{static_cast<double>(finger->x / touch.metrics.px_per_mm),
                               static_cast<double>(finger->y / touch.metrics.px_per_mm)};
    const auto away = [&](const figures::MapPlace& one) { return std::hypot(one.centre.x - where.x, one.centre.y - where.y); };
    const auto nearest = std::min_element(places.begin(), places.end(),
                                          [&](const auto& a, const auto& b) { return away(a) < away(b); });
    if (nearest == places.end()) return;
    for (const PlaceView& place : check.places)
        if (place.name == nearest->place) choose(draft, place);
}

}  // namespace

float places_height(const Touch& touch, float width, const CheckView& check) {
    if (check.places.size() < 2) return 0.0F;
    const bool map = has_map(touch, width, check);
    const float beside = map ? width - touch.mm(map_width_mm) - touch.gap() : width;
    const Grid grid = grid_for(touch, {0.0F, 0.0F, beside - touch.mm(2.0F), 0.0F}, check);
    return std::max(map ? touch.mm(map_height_mm) : 0.0F,
                    grid.total_height(static_cast<int>(check.places.size())) + touch.mm(3.0F));
}

void places_panel(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft) {
    if (check.places.size() < 2) return;
    if (touch.typing.take(Stroke::Left)) step(check, draft, -1);
    if (touch.typing.take(Stroke::Right)) step(check, draft, 1);
    Rect keys = at;
    if (has_map(touch, at.w, check))
        place_map(touch, cut_left(keys, touch.mm(map_width_mm), touch.gap()), check, draft);
    // A row that is scrolled away shows a little beyond the area.
    keys.h -= touch.mm(1.0F);
    ScrollArea area{touch, "places", keys};
    // It comes there by a key, the map, and by the saving of the place before; and the area may have become lower.
    if (const std::string at_hand = fmt::format("{} in {:.0f}", stands_at(draft), keys.h); draft.places_looked_at != at_hand) {
        draft.places_looked_at = at_hand;
        draft.places_look_frames = 3;
    }
    const int count = static_cast<int>(check.places.size());
    Grid grid = grid_for(touch, {keys.x, keys.y, area.width(), keys.h}, check);
    grid.area = area.take(grid.total_height(count));
    for (int i = 0; i < count; ++i) {
        const PlaceView& place = check.places[static_cast<std::size_t>(i)];
        const KeyState state = place.name == draft.place ? KeyState::Chosen : KeyState::Ready;
        const bool pressed = place_key(touch, grid.cell(i), place, state);
        // How far the list can be scrolled is known one frame after its rows.
        if (state == KeyState::Chosen && (draft.places_look_frames > 0 || touch.attention.sized_frames > 0)) area.look_here();
        if (pressed) choose(draft, place);
    }
    draft.places_look_frames = std::max(0, draft.places_look_frames - 1);
}

}  // namespace wm::screens
