// Pictures beside readings.
#include "screens/photo_panel.hpp"

#include <algorithm>
#include <utility>

namespace wm::screens {

std::string file_name(std::string_view path) {
    const std::size_t slash = path.find_last_of("/\\");
    return std::string{slash == std::string_view::npos ? path : path.substr(slash + 1)};
}

namespace {

constexpr float tile_mm = 60.0F;    // least width of a picture with room for its name
constexpr float folder_mm = 46.0F;  // and of a key for the place it comes from
constexpr float area_edge_mm = 2.5F;  // of a scrolling area, above and below what is in it
constexpr std::string_view more_pictures = "There are more pictures than can be shown here.";

bool picture_tile(Touch& touch, const Rect& at, const std::string& path, const World& world, bool is_chosen) {
    const std::string name = file_name(path);
    const bool pressed =
        bare_key(touch, path, at, {.words = name, .role = KeyRole::Row, .state = is_chosen ? KeyState::Chosen : KeyState::Ready}).released;
    Rect inside = at.inset(touch.mm(1.5F));
    const Rect frame = cut_left(inside, inside.h * 4.0F / 3.0F, touch.gap());
    const auto look = world.photo_looks.find(path);
    picture(touch, frame, look == world.photo_looks.end() ? nullptr : look->second);
    const bool is_none = look != world.photo_looks.end() && look->second->width == 0;
    const drawing::Colour ink = is_chosen ? touch.theme.chosen_text : touch.theme.text;
    if (is_none) line_of_text(touch, cut_bottom(inside, inside.h / 2.0F), "cannot be read", {.face = Face::Small, .colour = ink});
    line_of_text(touch, inside, name, {.face = Face::Small, .colour = ink});
    return pressed;
}

/// The first of those in sight that nobody has seen yet, when the last one asked for has come.
void ask_for_looks(const std::vector<const std::string*>& in_sight, const World& world, LookAsked& asked, Requests& requests) {
    const bool is_coming = !asked.path.empty() && asked.folder_looks == world.folder_looks && !world.photo_looks.contains(asked.path);
    if (is_coming) return;
    for (const std::string* path : in_sight) {
        if (world.photo_looks.contains(*path)) continue;
        asked.path = *path;
        asked.folder_looks = world.folder_looks;
        requests.emplace_back(AskLookOf{*path});
        return;
    }
}

}  // namespace

namespace {

/// Where pictures can come from, as long as there is a choice, and what became of the one that was made.
void folder_keys(Touch& touch, ScrollArea& area, const PhotoFolders& photos, Requests& requests) {
    if (!photos.gone.empty()) {
        area.words("This folder is not there now, as when a card was pulled: " + photos.gone, Face::Small, touch.theme.warn_text);
        area.words("Shown are the pictures of this device. What was typed and chosen is still there.", Face::Small, touch.theme.warn_text);
    }
    if (photos.there.size() < 2) return;
    Grid grid{.area = {}, .per_row = fitting(area.width(), touch.mm(folder_mm), touch.gap()), .height = touch.row_side(), .gap = touch.gap()};
    grid.area = area.take(grid.total_height(static_cast<int>(photos.there.size())), touch.gap());
    for (std::size_t i = 0; i < photos.there.size(); ++i) {
        const PhotoPlace& place = photos.there[i];
        const bool is_shown = photos.is_own ? place.path.empty() : place.path == photos.folder;
        if (key(touch, "from " + (place.path.empty() ? "this device" : place.path), grid.cell(static_cast<int>(i)),
                {.words = place.words, .state = is_shown ? KeyState::Chosen : KeyState::Ready, .face = Face::Small}))
            requests.emplace_back(ChoosePhotoFolder{place.path});
    }
}

float folders_height(const Touch& touch, float width, const World& world) {
    if (world.photos.there.size() < 2) return 0.0F;
    const int rows = rows_for(static_cast<int>(world.photos.there.size()), fitting(width, touch.mm(folder_mm), touch.gap()));
    return static_cast<float>(rows) * (touch.row_side() + touch.gap());
}

bool is_offered(const World& world, std::string_view path) {
    return std::find(world.photo_files.begin(), world.photo_files.end(), path) != world.photo_files.end();
}

}  // namespace

std::optional<std::string> photo_rows(Touch& touch, const Rect& at, const World& world,
                                      std::string_view chosen, LookAsked& asked, Requests& requests) {
    std::optional<std::string> pressed;
    std::vector<const std::string*> in_sight;
    ScrollArea area{touch, "pictures", at};
    folder_keys(touch, area, world.photos, requests);
    // It came from another folder, or from a card that was pulled.
    if (!chosen.empty() && !is_offered(world, chosen)) area.words("Chosen: " + std::string{chosen}, Face::Small);
    if (world.photo_files.empty()) {
        area.words("No picture is there yet. Put JPEG or PNG files into this folder, then touch Look again:", Face::Body);
        area.words(world.photos.folder, Face::Small);
    }
    // As many beside each other as leave room for a name; where there is little height, lower ones that are seen whole.
    const float room = at.h - touch.mm(area_edge_mm) - folders_height(touch, area.width(), world);
    const float side = std::clamp(room, touch.key_side(), touch.strong_side());
    const int per_row = fitting(area.width(), touch.mm(tile_mm), touch.gap());
    for (std::size_t i = 0; i < world.photo_files.size(); i += static_cast<std::size_t>(per_row)) {
        const Rect strip = area.take(side, touch.gap());
        const std::vector<Rect> cells = columns(strip, per_row, touch.gap());
        for (std::size_t j = i; j < std::min(i + cells.size(), world.photo_files.size()); ++j) {
            const std::string& path = world.photo_files[j];
            if (picture_tile(touch, cells[j - i], path, world, path == chosen)) pressed = path;
            if (area.is_near(strip)) in_sight.push_back(&path);
        }
    }
    if (world.photos.more) area.words(more_pictures, Face::Small);
    ask_for_looks(in_sight, world, asked, requests);
    return pressed;
}

namespace {

constexpr float one_row_mm = 180.0F;  // caption and keys beside each other, on a panel across

/// What the picture shows, and a key for those that have come since.
void caption_row(Touch& touch, const Rect& at, RunDraft& draft, Requests& requests) {
    Rect row = at;
    if (key(touch, "look again", cut_right(row, touch.mm(36.0F), touch.gap()), {.words = "Look again", .face = Face::Small}))
        requests.emplace_back(AskFiles{});
    (void)field(touch, "caption", row, draft.caption, "what the picture shows");
}

/// Of caption and keys, with the gap above them.
float rows_below(const Touch& touch, float width) {
    return touch.strong_side() + touch.gap() + (width >= touch.mm(one_row_mm) ? 0.0F : touch.key_side() + touch.gap());
}

/// To the pictures and back to the question, where both have no room; else a key for those that have come since.
void turn_or_look(Touch& touch, const Rect& at, bool in_turns, LookAsked& asked, Requests& requests) {
    if (!in_turns) {
        if (key(touch, "look again", at, {.words = "Look again", .face = Face::Small})) requests.emplace_back(AskFiles{});
        return;
    }
    if (!key(touch, "turn", at, {.words = asked.shows_pictures ? "Question" : "Pictures", .face = Face::Small})) return;
    asked.shows_pictures = !asked.shows_pictures;
    if (asked.shows_pictures) requests.emplace_back(AskFiles{});
}

/// The words under the picture are a caption and never the answer: “no leak” is no no.
void photo_answers(Touch& touch, const Rect& at, const desk::CheckView& check, RunDraft& draft, Requests& requests) {
    Rect rest = at;
    const bool unsaid = draft.mode == RunMode::Correcting && draft.done.empty();
    const bool none = draft.photo_path.empty();
    const Rect fault = cut_right(rest, at.w * 0.43F, touch.gap());
    const std::string_view missing = unsaid ? "first: what was done" : none ? "choose a picture first" : "";
    if (key(touch, "save", rest,
            {.words = "Save the picture", .small = missing, .role = KeyRole::Primary, .state = missing.empty() ? KeyState::Ready : KeyState::Blocked,
             .why = unsaid ? say_first : "Choose a picture first: there is none to save."}))
        return save_reading(check, "yes", draft, requests);
    // A fault is told at once: a picture of it may come later.
    if (key(touch, "fault", fault,
            {.words = "It is not so", .small = unsaid ? missing : none ? "saved without a picture" : "saved with the picture", .role = KeyRole::Answer,
             .state = unsaid ? KeyState::Blocked : KeyState::Ready, .why = say_first}))
        save_reading(check, "no", draft, requests);
}

}  // namespace

float photo_entry_height(const Touch& touch, float width, const World& world) {
    // As if a bar stood beside the pictures: a row more does no harm, one too few would bring it.
    const float inner = width - touch.mm(3.6F);
    const int rows = rows_for(static_cast<int>(world.photo_files.size()), fitting(inner, touch.mm(tile_mm), touch.gap()));
    float pictures = touch.mm(area_edge_mm) + static_cast<float>(rows) * (touch.strong_side() + touch.gap()) + folders_height(touch, inner, world);
    if (world.photos.more) pictures += prose_height(touch, inner, more_pictures, Face::Small) + touch.mm(1.2F);
    return pictures + rows_below(touch, width);
}

float photo_entry_least(const Touch& touch, float width, const World& world) {
    return rows_below(touch, width) + folders_height(touch, width - touch.mm(3.6F), world) + touch.key_side() + touch.mm(area_edge_mm);
}

float photo_keys_height(const Touch& touch, float width) { return rows_below(touch, width) - touch.gap(); }

void photo_entry(Touch& touch, const Rect& at, const desk::CheckView& check, const World& world, bool in_turns,
                 RunDraft& draft, Requests& requests) {
    const Scope scope{touch, "photo"};
    // What the camera put there since the folder was looked at.
    if (std::exchange(draft.look_asked.folder_for, check.id) != check.id) {
        requests.emplace_back(AskFiles{});
        draft.look_asked.shows_pictures = false;
    }
    Rect rest = at;
    Rect row = cut_bottom(rest, touch.strong_side(), touch.gap());
    const bool one_row = at.w >= touch.mm(one_row_mm);
    const Rect answers = one_row ? cut_right(row, touch.mm(107.0F), touch.gap()) : row;
    if (!one_row) row = cut_bottom(rest, touch.key_side(), touch.gap());
    const bool shown = !in_turns || draft.look_asked.shows_pictures;
    turn_or_look(touch, cut_right(row, touch.mm(one_row ? 30.0F : 36.0F), touch.gap()), in_turns, draft.look_asked, requests);
    (void)field(touch, "caption", row, draft.caption, "what the picture shows");
    if (shown)
        if (const auto path = photo_rows(touch, rest, world, draft.photo_path, draft.look_asked, requests)) {
            // The same again takes it out; a glove that bounces does not.
            if (draft.photo_path == *path) draft.photo_path.clear();
            else draft.photo_path = *path;
            touch.be_deaf_for(bounce_s);
        }
    photo_answers(touch, answers, check, draft, requests);
}

void photo_panel(Touch& touch, const Rect& at, const desk::CheckView& check, const World& world,
                 RunDraft& draft, Requests& requests) {
    const Scope scope{touch, "photo"};
    Rect rest = at;
    // Beside the letters on the glass there is room for what is written.
    if (at.h < touch.mm(60.0F)) return caption_row(touch, cut_top(rest, touch.key_side()), draft, requests);
    line_of_text(touch, cut_top(rest, touch.key_side()), "Picture for: " + check.title,
                 {.face = Face::Bold, .colour = touch.theme.text});
    const Rect done = cut_bottom(rest, touch.strong_side(), touch.gap());
    caption_row(touch, cut_bottom(rest, touch.key_side(), touch.gap()), draft, requests);
    if (const auto path = photo_rows(touch, rest, world, draft.photo_path, draft.look_asked, requests))
        draft.photo_path = *path;
    if (key(touch, "use", done, {.words = "Back to the reading", .role = KeyRole::Primary})) {
        draft.mode = RunMode::Reading;
    }
}

}  // namespace wm::screens
