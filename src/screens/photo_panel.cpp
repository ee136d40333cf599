// Pictures beside readings.
#include "screens/photo_panel.hpp"

namespace wm::screens {

std::string file_name(std::string_view path) {
    const std::size_t slash = path.find_last_of("/\\");
    return std::string{slash == std::string_view::npos ? path : path.substr(slash + 1)};
}

std::optional<std::string> photo_rows(Touch& touch, const Rect& at, const World& world,
                                      std::string_view chosen) {
    std::optional<std::string> pressed;
    ScrollArea area{touch, "pictures", at};
    if (world.photo_files.empty()) {
        area.words("No picture is there yet. Put JPEG or PNG files into this folder, then touch Look again:", Face::Body);
        area.words(world.photo_folder, Face::Small);
    }
    for (const std::string& path : world.photo_files) {
        if (key(touch, path, area.take(touch.key_side(), touch.gap()),
                {.words = file_name(path),
                 .role = KeyRole::Row,
                 .state = path == chosen ? KeyState::Chosen : KeyState::Ready})) {
            pressed = path;
        }
    }
    return pressed;
}

namespace {

/// What the picture shows, and a key for those that have come since.
void caption_row(Touch& touch, const Rect& at, RunDraft& draft, Requests& requests) {
    Rect row = at;
    if (key(touch, "look again", cut_right(row, touch.mm(36.0F), touch.gap()), {.words = "Look again", .face = Face::Small}))
        requests.emplace_back(AskFiles{});
    (void)field(touch, "caption", row, draft.caption, "what the picture shows");
}

}  // namespace

void photo_entry(Touch& touch, const Rect& at, const desk::CheckView& check, const World& world,
                 RunDraft& draft, Requests& requests) {
    const Scope scope{touch, "photo"};
    Rect rest = at;
    const Rect save = cut_bottom(rest, touch.strong_side(), touch.gap());
    caption_row(touch, cut_bottom(rest, touch.key_side(), touch.gap()), draft, requests);
    if (const auto path = photo_rows(touch, rest, world, draft.photo_path))
        draft.photo_path = *path;
    if (key(touch, "save", save,
            {.words = "Save the picture",
             .role = KeyRole::Primary,
             .state = draft.photo_path.empty() ? KeyState::Blocked : KeyState::Ready})) {
        save_reading(check, draft.caption, draft, requests);
    }
}

void photo_panel(Touch& touch, const Rect& at, const desk::CheckView& check, const World& world,
                 RunDraft& draft, Requests& requests) {
    const Scope scope{touch, "photo"};
    Rect rest = at;
    line_of_text(touch, cut_top(rest, touch.key_side()), "Picture for: " + check.title,
                 {.face = Face::Bold, .colour = touch.theme.text});
    const Rect done = cut_bottom(rest, touch.strong_side(), touch.gap());
    caption_row(touch, cut_bottom(rest, touch.key_side(), touch.gap()), draft, requests);
    if (const auto path = photo_rows(touch, rest, world, draft.photo_path))
        draft.photo_path = *path;
    if (key(touch, "use", done, {.words = "Back to the reading", .role = KeyRole::Primary})) {
        draft.mode = RunMode::Reading;
    }
}

}  // namespace wm::screens
