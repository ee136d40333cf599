// Plant drawing on the screen.
#include "screens/plant_panel.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "screens/marks.hpp"
#include "screens/screen_canvas.hpp"

namespace wm::screens {
namespace {

using desk::CheckView;
using desk::JobView;

bool on_station(const CheckView& check, const PlantDraft& draft) {
    return draft.part && figures::station_of(check.id) == *draft.part;
}

Rect in_pixels(const Touch& touch, const Rect& at, const drawing::Box& box) {
    return {at.x + touch.mm(static_cast<float>(box.left)),
            at.y + touch.mm(static_cast<float>(box.top)), touch.mm(static_cast<float>(box.width)),
            touch.mm(static_cast<float>(box.height))};
}

/// The checks whose marks the finger may mean, the nearest first. What is not seen cannot be meant.
std::vector<std::string> marks_at(const figures::PlantPlaces& places, drawing::Point finger, const drawing::Box& seen) {
    std::vector<std::pair<double, std::string>> found;
    for (const figures::PinPlace& pin : places.pins) {
        const drawing::Point at = pin.centre;
        if (at.x < seen.left || at.x > seen.right() || at.y < seen.top || at.y > seen.bottom()) continue;
        const double away = std::hypot(at.x - finger.x, at.y - finger.y);
        if (away <= static_cast<double>(mark_reach_mm)) found.emplace_back(away, pin.check);
    }
    std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<std::string> checks;
    for (auto& [away, check] : found) checks.push_back(std::move(check));
    return checks;
}

std::optional<figures::Station> station_near(const figures::PlantPlaces& places,
                                             drawing::Point finger) {
    std::optional<figures::Station> nearest;
    double least = 16.0;
    for (const figures::StationPlace& place : places.stations) {
        const double dx = std::max({place.box.left - finger.x, 0.0, finger.x - place.box.right()});
        const double dy = std::max({place.box.top - finger.y, 0.0, finger.y - place.box.bottom()});
        const double away = std::hypot(dx, dy);
        if (away < least) {
            least = away;
            nearest = place.station;
        }
    }
    return nearest;
}

/// Which part of the enlarged drawing is seen.
struct Eye {
    float zoom, left_mm, top_mm;
};

figures::PlantPlaces drawn(Touch& touch, const Rect& at, const JobView& job, std::string_view current, const Eye& eye,
                           const std::optional<figures::Station>& part) {
    figures::PlantInput input{.shape = job.plant, .pins = {}, .pin_mm = 4.2 * std::min(2.0, static_cast<double>(eye.zoom))};
    for (const CheckView& check : job.checks) {
        if (!check.applies) continue;
        input.pins.push_back({.check = check.id,
                              .outcome = check.outcome,
                              .label = {},
                              .current = check.id == current});
    }
    ScreenCanvas canvas{touch, at};
    const drawing::Box sheet = canvas.sheet();
    const auto zoom = static_cast<double>(eye.zoom);
    const auto places = figures::draw_plant(canvas,
                                            {sheet.left + 1.0 - static_cast<double>(eye.left_mm),
                                             sheet.top + 1.0 - static_cast<double>(eye.top_mm), (sheet.width - 2.0) * zoom,
                                             (sheet.height - 2.0) * zoom},
                                            input);
    for (const figures::PinPlace& pin : places.pins) {
        const auto r = static_cast<double>(mark_reach_mm);
        const Rect spot = in_pixels(touch, at, {pin.centre.x - r, pin.centre.y - r, 2 * r, 2 * r});
        if (at.holds(spot.x + spot.w / 2.0F, spot.y + spot.h / 2.0F)) note_spot(touch, pin.check, spot);
    }
    for (const figures::StationPlace& place : places.stations)
        if (part == place.station && eye.zoom == 1.0F)
            outline(touch, in_pixels(touch, at, place.box).inset(-touch.mm(0.8F)), touch.theme.focus, 0.7F);
    return places;
}

/// The one mark that can be meant; several are left to be chosen from, and the part near the finger is chosen.
std::optional<std::string> chosen(Touch& touch, const Rect& panel_at, const Contact& finger, const figures::PlantPlaces& places,
                                  PlantDraft& draft) {
    const auto px = static_cast<double>(touch.metrics.px_per_mm);
    const drawing::Point at{static_cast<double>(finger.x) / px, static_cast<double>(finger.y) / px};
    const drawing::Box seen{0.0, 0.0, static_cast<double>(panel_at.w) / px, static_cast<double>(panel_at.h) / px};
    draft.part = station_near(places, at);
    draft.nearby = marks_at(places, at, seen);
    if (draft.nearby.size() > 1) {
        if (draft.shows == ListShows::Found) {
            draft.shows = ListShows::Stage;
            draft.search.clear();
            touch.attention.letters_done = true;
        }
        // The rows come under the finger: one that bounces would choose what it has not read.
        touch.be_deaf_for(bounce_s);
        return std::nullopt;
    }
    const std::vector<std::string> only = std::exchange(draft.nearby, {});
    return only.empty() ? std::nullopt : std::optional{only.front()};
}

/// A row of a list of checks.
bool check_row(Touch& touch, const Rect& at, const CheckView& check, std::string_view current) {
    return marked_row(touch, check.id, at,
                      {.outcome = check.outcome,
                       .words = (check.hold ? "■ " : "") + check.title,
                       .small = {},
                       .state = check.id == current ? KeyState::Chosen : KeyState::Ready});
}

constexpr std::string_view nearby_title = "Which one is meant?";

/// The marks under the finger beside the drawing that has no list of its own, nearest first.
std::optional<std::string> nearby_list(Touch& touch, const Rect& at, const JobView& job, std::string_view current, PlantDraft& draft) {
    const Scope scope{touch, "near"};
    Rect rest = at;
    Rect head = cut_top(rest, touch.key_side(), touch.gap());
    const bool closed = key(touch, "close", cut_right(head, touch.mm(30.0F), touch.gap()), {.words = "Drawing", .face = Face::Small});
    line_of_text(touch, head, nearby_title, {.face = Face::Bold, .colour = touch.theme.text});
    std::optional<std::string> pressed;
    {
        ScrollArea area{touch, "rows", rest};
        for (const std::string& id : draft.nearby)
            for (const CheckView& check : job.checks)
                if (check.id == id && check_row(touch, area.take(touch.key_side(), touch.gap()), check, current)) pressed = id;
    }
    if (closed || pressed) draft.nearby.clear();
    return pressed;
}

constexpr float most_zoom = 4.0F;

void zoom_keys(Touch& touch, const Rect& at, PlantDraft& draft) {
    const std::vector<Rect> cells = columns(at, 3, touch.gap());
    constexpr float middle_mm = 90.0F;
    const auto to = [&](float zoom) {
        // The middle stays in the middle.
        const float ratio = zoom / draft.zoom;
        draft.left_mm = (draft.left_mm + middle_mm) * ratio - middle_mm;
        draft.top_mm = (draft.top_mm + middle_mm * 0.6F) * ratio - middle_mm * 0.6F;
        draft.zoom = zoom;
    };
    if (key(touch, "smaller", cells[0], {.words = "− Smaller", .state = draft.zoom > 1.0F ? KeyState::Ready : KeyState::Blocked, .why = "The whole is seen already."}))
        to(std::max(1.0F, draft.zoom / 1.5F));
    if (key(touch, "whole", cells[1], {.words = "Whole", .state = draft.zoom > 1.0F ? KeyState::Ready : KeyState::Blocked, .why = "The whole is seen already."}))
        to(1.0F);
    if (key(touch, "larger", cells[2], {.words = "+ Larger", .state = draft.zoom < most_zoom ? KeyState::Ready : KeyState::Blocked, .why = "It grows no larger."}))
        to(std::min(most_zoom, draft.zoom * 1.5F));
}

void move_with(const Touch& touch, const Contact& now, PlantDraft& draft) {
    constexpr float still_mm = 2.0F;
    if (!draft.finger) {
        draft.finger = now;
        draft.dragged = false;
        return;
    }
    const float dx = (now.x - draft.finger->x) / touch.metrics.px_per_mm;
    const float dy = (now.y - draft.finger->y) / touch.metrics.px_per_mm;
    if (!draft.dragged && std::hypot(dx, dy) < still_mm) return;
    draft.dragged = true;
    draft.left_mm -= dx;
    draft.top_mm -= dy;
    draft.finger = now;
}

/// Nothing is seen beside the drawing.
void keep_inside(const Touch& touch, const Rect& at, PlantDraft& draft) {
    const float beyond = draft.zoom - 1.0F;
    draft.left_mm = std::clamp(draft.left_mm, 0.0F, beyond * at.w / touch.metrics.px_per_mm);
    draft.top_mm = std::clamp(draft.top_mm, 0.0F, beyond * at.h / touch.metrics.px_per_mm);
}

}  // namespace

std::optional<std::string> plant_panel(Touch& touch, const Rect& at, const JobView& job,
                                       std::string_view current, PlantDraft& draft) {
    const Scope scope{touch, "plant"};
    const auto finger = finger_up(touch, "drawing", at);
    panel(touch, at);
    const auto places = drawn(touch, at, job, current, {.zoom = 1.0F, .left_mm = 0.0F, .top_mm = 0.0F}, draft.part);
    return finger ? chosen(touch, at, *finger, places, draft) : std::nullopt;
}

std::optional<std::string> plant_sheet(Touch& touch, const Rect& at, const JobView& job, std::string_view current,
                                       PlantDraft& draft) {
    const Scope scope{touch, "sheet"};
    Rect rest = at;
    zoom_keys(touch, cut_bottom(rest, touch.key_side(), touch.gap()), draft);
    std::optional<std::string> wanted;
    if (!draft.nearby.empty()) {
        const bool beside = rest.w > rest.h;
        // Half a small glass holds no title in large letters: there the list takes the place of the drawing.
        if (beside && rest.w * 0.48F < touch.mm(75.0F * touch.metrics.text_scale())) return nearby_list(touch, rest, job, current, draft);
        const Rect rows = beside ? cut_right(rest, rest.w * 0.48F, touch.gap()) : cut_bottom(rest, rest.h * 0.5F, touch.gap());
        wanted = nearby_list(touch, rows, job, current, draft);
    }
    const auto now = pad(touch, "drawing", rest);
    std::optional<Contact> lifted;
    if (now) move_with(touch, *now, draft);
    else lifted = std::exchange(draft.finger, std::nullopt);
    keep_inside(touch, rest, draft);
    panel(touch, rest);
    const auto places = drawn(touch, rest, job, current, {draft.zoom, draft.left_mm, draft.top_mm}, draft.part);
    if (lifted && !std::exchange(draft.dragged, false)) wanted = chosen(touch, rest, *lifted, places, draft);
    return wanted;
}

int still_open(const JobView& job) {
    return static_cast<int>(std::count_if(job.checks.begin(), job.checks.end(), [](const CheckView& check) {
        return check.applies && check.outcome == measure::Outcome::Open;
    }));
}

namespace {

bool in_list(const CheckView& check, std::string_view stage, const PlantDraft& draft) {
    if (!check.applies) return false;
    if (!draft.nearby.empty()) return std::find(draft.nearby.begin(), draft.nearby.end(), check.id) != draft.nearby.end();
    if (draft.part) return on_station(check, draft);
    if (draft.shows == ListShows::Open) return check.outcome == measure::Outcome::Open;
    if (draft.shows == ListShows::Found) return desk::has_words(check.title + ' ' + check.id + ' ' + check.question, draft.search);
    return check.stage == stage;
}

std::string list_title(const JobView& job, std::string_view stage, const PlantDraft& draft) {
    if (!draft.nearby.empty()) return std::string{nearby_title};
    if (draft.part) return std::string{figures::name_of(*draft.part)};
    if (draft.shows == ListShows::Open) return "All that is open";
    for (const desk::StageView& one : job.stages) {
        if (one.id == stage) return fmt::format("Stage {}: {}", one.id, one.title);
    }
    return std::string{stage};
}

/// Too narrow for the title beside the keys.
bool is_narrow(const Touch& touch, const Rect& list) { return list.w < touch.mm(95.0F); }

void list_head(Touch& touch, const Rect& at, const JobView& job, std::string_view stage,
               PlantDraft& draft) {
    Rect head = at;
    if (draft.shows == ListShows::Found) {
        if (key(touch, "found", cut_right(head, touch.mm(34.0F), touch.gap()), {.words = "Whole stage", .face = Face::Small})) {
            draft.shows = ListShows::Stage;
            draft.search.clear();
            touch.attention.letters_done = true;
        }
        (void)field(touch, "search", head, draft.search, "word of a check");
        return;
    }
    const bool whole = !draft.nearby.empty() || draft.part || draft.shows == ListShows::Open;
    if (key(touch, "find", cut_right(head, touch.mm(key_mm + 6.0F), touch.gap()), {.words = "Find", .face = Face::Small})) {
        draft.part.reset();
        draft.nearby.clear();
        draft.shows = ListShows::Found;
        touch.attention.at = touch.named("search");
        touch.attention.letters_wanted = !touch.attention.has_keyboard;
    }
    const std::string words =
        whole ? std::string{"Whole stage"} : fmt::format("{} open in all", still_open(job));
    if (key(touch, whole ? "whole stage" : "all open",
            is_narrow(touch, at) ? head : cut_right(head, touch.mm(34.0F), touch.gap()), {.words = words, .face = Face::Small})) {
        draft.part.reset();
        draft.nearby.clear();
        draft.shows = whole ? ListShows::Stage : ListShows::Open;
    }
    if (!is_narrow(touch, at))
        line_of_text(touch, head, list_title(job, stage, draft), {.face = Face::Bold, .colour = touch.theme.text});
}

}  // namespace

std::optional<std::string> check_list(Touch& touch, const Rect& at, const JobView& job,
                                      const ListFace& face, PlantDraft& draft) {
    const Scope scope{touch, "list"};
    std::optional<std::string> pressed;
    Rect rest = at;
    list_head(touch, cut_top(rest, touch.key_side(), touch.gap()), job, face.stage, draft);
    if (is_narrow(touch, at) && draft.shows != ListShows::Found)
        line_of_text(touch, cut_top(rest, 1.3F * em_px(Face::Small, touch.metrics), touch.mm(1.0F)), list_title(job, face.stage, draft),
                     {.face = Face::Small, .colour = touch.theme.text});
    ScrollArea area{touch, "rows", rest};
    bool any = false;
    // What is found is read from its top.
    const bool searches = draft.shows == ListShows::Found;
    const bool from_top = searches || !draft.nearby.empty();
    const std::string stands_at = searches                ? "words: " + draft.search
                                  : draft.nearby.empty() ? std::string{face.current}
                                                         : "near: " + draft.nearby.front();
    if (std::exchange(draft.listed_at, stands_at) != stands_at) draft.look_frames = 3;
    for (const CheckView& check : job.checks) {
        if (!in_list(check, face.stage, draft)) continue;
        const bool first = !std::exchange(any, true);
        if (check_row(touch, area.take(touch.key_side(), touch.gap()), check, face.current)) {
            pressed = check.id;
            if (draft.shows == ListShows::Found) {
                draft.shows = ListShows::Stage;
                draft.search.clear();
                touch.attention.letters_done = true;
            }
        }
        // How far the list can be scrolled is known one frame after its rows.
        if ((from_top ? first : check.id == face.current) && (draft.look_frames > 0 || touch.attention.sized_frames > 0)) area.look_here();
    }
    if (!any && draft.shows == ListShows::Found) area.words("No check has these words.");
    draft.look_frames = std::max(0, draft.look_frames - 1);
    if (pressed) draft.nearby.clear();
    return pressed;
}

}  // namespace wm::screens
