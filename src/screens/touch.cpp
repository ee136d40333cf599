// Keys, fields and pads.
#include "screens/touch.hpp"

#include <imgui.h>
#include <imgui_internal.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>

#include "screens/ink.hpp"
#include "screens/label.hpp"

namespace wm::screens {
namespace {

using drawing::Colour;

constexpr float corner_mm = 1.4F;

struct Grounds {
    Colour ground;
    Colour words;
    Colour small;
};

Grounds grounds_of(const Theme& theme, const KeyFace& face, bool down) {
    if (face.state == KeyState::Blocked) return {theme.panel, theme.quiet, theme.quiet};
    if (face.state == KeyState::Chosen || face.role == KeyRole::Primary) {
        // Never as it was: what is pressed must show it, in pure black and white too.
        if (down) return {theme.key, theme.text, theme.text};
        return {theme.chosen, theme.chosen_text, theme.chosen_text};
    }
    if (down) return {theme.key_down, theme.key_down_text, theme.key_down_text};
    return {theme.key, theme.text, theme.quiet};
}

/// True in the first frame after the glass was turned or sized.
bool is_sized_anew(Attention& attention) {
    const ImVec2 glass = ImGui::GetIO().DisplaySize;
    const bool is_first = attention.width_px <= 0.0F;
    const bool same = attention.width_px == glass.x && attention.height_px == glass.y;
    attention.width_px = glass.x;
    attention.height_px = glass.y;
    return !is_first && !same;
}

SpotKind kind_of(KeyRole role) {
    switch (role) {
        case KeyRole::Digit:
            return SpotKind::Digit;
        case KeyRole::Answer:
            return SpotKind::Answer;
        case KeyRole::Plain:
        case KeyRole::Primary:
        case KeyRole::Row:
            return SpotKind::Key;
    }
    return SpotKind::Key;
}

void note(Touch& touch, const std::string& path, const Rect& at, Spot spot) {
    touch.attention.order.push_back(path);
    if (touch.probe == nullptr) return;
    const ImVec2 low = ImGui::GetWindowDrawList()->GetClipRectMin();
    const ImVec2 high = ImGui::GetWindowDrawList()->GetClipRectMax();
    const float mx = at.x + at.w / 2.0F;
    const float my = at.y + at.h / 2.0F;
    spot.rect = at;
    const float left = std::max(at.x, low.x);
    const float top = std::max(at.y, low.y);
    spot.seen = {left, top, std::max(0.0F, std::min(at.right(), high.x) - left),
                 std::max(0.0F, std::min(at.bottom(), high.y) - top)};
    spot.reachable = mx >= low.x && mx <= high.x && my >= low.y && my <= high.y;
    if (!touch.probe->spots.insert_or_assign(path, std::move(spot)).second) {
        touch.probe->twice.push_back(path);
    }
}

void focus_ring(const Touch& touch, const Rect& at) {
    outline(touch, at.inset(-touch.mm(0.9F)), touch.theme.focus, 0.9F);
}

void draw_ground(const Touch& touch, const Rect& at, const KeyFace& face, const Grounds& grounds) {
    ImDrawList* list = ImGui::GetWindowDrawList();
    const float radius = touch.mm(corner_mm);
    list->AddRectFilled(corner(at), far_corner(at), packed(grounds.ground), radius);
    if (face.state == KeyState::Blocked) return;
    list->AddRect(corner(at), far_corner(at), packed(touch.theme.line), radius, 0,
                  touch.mm(touch.theme.line_mm));
}

void draw_words(Touch& touch, std::string_view path, const Rect& at, const KeyFace& face,
                const Grounds& grounds) {
    Rect inside = at.inset(touch.mm(1.0F));
    const Across across = face.role == KeyRole::Row ? Across::Left : Across::Middle;
    if (face.role == KeyRole::Row)
        inside = {inside.x + touch.mm(1.5F), inside.y, inside.w - touch.mm(2.5F), inside.h};
    if (!face.small.empty()) {
        const Rect below = cut_bottom(inside, inside.h * 0.42F);
        draw_label(touch, path, below, face.small,
                   {.face = Face::Small, .across = across, .colour = grounds.small});
    }
    draw_label(touch, path, inside, face.words,
               {.face = face.face, .across = across, .colour = grounds.words});
}

}  // namespace

std::string Touch::named(std::string_view name) const {
    return path.empty() ? std::string{name} : path + "/" + std::string{name};
}

Scope::Scope(Touch& touch, std::string_view name) : touch_{touch}, length_{touch.path.size()} {
    touch.path = touch.named(name);
}
Scope::~Scope() {
    touch_.path.resize(length_);
}

Touch begin_touch(const Theme& theme, Metrics metrics, const Fonts& fonts, Attention& attention,
                  Probe* probe) {
    attention.order.clear();
    if (probe != nullptr) probe->clear();
    if (ImGui::IsMouseClicked(0)) {
        attention.scrolling = false;
        attention.at.clear();
        attention.why.clear();
        attention.deaf_press = attention.now_s < attention.deaf_until_s;
    }
    Touch touch{.theme = theme,
                .metrics = metrics,
                .fonts = fonts,
                .attention = attention,
                .typing = read_keyboard(),
                .probe = probe,
                .path = {}};
    attention.sized_frames = std::max(0, attention.sized_frames - 1);
    if (is_sized_anew(attention)) {
        // How far a list can be scrolled is known one frame after its rows.
        attention.sized_frames = 3;
        // The finger holds a tablet that turns: it lets go of its key or its stroke, and takes up no other.
        if (ImGui::IsMouseDown(0) || ImGui::IsMouseReleased(0)) ImGui::ClearActiveID();
        touch.be_deaf_for(bounce_s);
    }
    return touch;
}

void end_touch(Touch& touch) {
    const bool forward = touch.typing.take(Stroke::Tab);
    const bool back = touch.typing.take(Stroke::TabBack);
    auto& at = touch.attention.at;
    const auto& order = touch.attention.order;
    if (!forward && !back) return;
    // A finger put no ring: from the field that is being written in, Tab goes to its neighbour.
    const std::string from = at.empty() && ImGui::GetActiveID() != 0 ? touch.attention.writing : at;
    ImGui::ClearActiveID();
    if (order.empty()) return;
    const auto here = std::find(order.begin(), order.end(), from);
    const auto count = static_cast<std::ptrdiff_t>(order.size());
    std::ptrdiff_t next = forward ? 0 : count - 1;
    if (here != order.end()) {
        next = (here - order.begin() + (forward ? 1 : count - 1)) % count;
    }
    at = order[static_cast<std::size_t>(next)];
}

Pressed bare_key(Touch& touch, std::string_view name, const Rect& at, const KeyFace& face) {
    const std::string path = touch.named(name);
    const bool blocked = face.state == KeyState::Blocked;
    note(touch, path, at,
         {.kind = kind_of(face.role), .enabled = !blocked, .words = std::string{face.words}, .small = std::string{face.small}});
    if (at.w < 1.0F || at.h < 1.0F) return {};
    ImGui::SetCursorScreenPos(corner(at));
    const bool released = ImGui::InvisibleButton(path.c_str(), {at.w, at.h});
    const bool active = ImGui::IsItemActive() && !touch.attention.scrolling;
    const bool inside = ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem);
    const bool focused = touch.attention.at == path;
    draw_ground(touch, at, face, grounds_of(touch.theme, face, active && inside && !blocked));
    if (focused) {
        focus_ring(touch, at);
        if (!ImGui::IsItemVisible()) ImGui::SetScrollHereY(0.5F);
    }
    Pressed pressed;
    if (blocked) {
        if (!released || face.why.empty() || touch.attention.scrolling || touch.attention.deaf_press) return pressed;
        touch.attention.why = face.why;
        touch.attention.why_until_s = touch.attention.now_s + why_s;
        return pressed;
    }
    if (active && inside) pressed.held_s = ImGui::GetIO().MouseDownDuration[0];
    const bool digit = face.role == KeyRole::Digit;
    pressed.released = released && !touch.attention.scrolling && (digit || !touch.attention.deaf_press);
    if (pressed.released) pressed.held_s = ImGui::GetIO().MouseDownDurationPrev[0];
    if (focused && (touch.typing.take(Stroke::Enter) || touch.typing.take(Stroke::Space))) {
        pressed.released = pressed.released || digit || !touch.is_deaf();
    }
    return pressed;
}

bool key(Touch& touch, std::string_view name, const Rect& at, const KeyFace& face) {
    const Pressed pressed = bare_key(touch, name, at, face);
    draw_words(touch, touch.named(name), at, face,
               grounds_of(touch.theme, face, pressed.held_s > 0.0F && !pressed.released));
    return pressed.released;
}

namespace {

/// Letters of the board go to the end of the field last written in.
void take_letters(Touch& touch, const std::string& path, std::string& text) {
    if (touch.attention.writing != path || touch.attention.letters.empty()) return;
    for (const char letter : touch.attention.letters) {
        if (letter != '\b') {
            text += letter;
            continue;
        }
        while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0U) == 0x80U) {
            text.pop_back();
        }
        if (!text.empty()) text.pop_back();
    }
    touch.attention.letters.clear();
}

/// After the item was made.
void look_after_writing(Touch& touch, const std::string& path, const Rect& at, bool focused) {
    // Tab may be faster than the field that it passed: the ring alone says where letters go.
    if (ImGui::IsItemActive() && !focused && !touch.attention.at.empty()) ImGui::ClearActiveID();
    if (ImGui::IsItemActive()) touch.attention.writing = path;
    if (ImGui::IsItemActive() && touch.attention.look_frames > 0) ImGui::SetScrollHereY(0.5F);
    if (ImGui::IsItemActivated() && ImGui::IsMouseDown(0)) touch.attention.letters_wanted = true;
    if (focused || ImGui::IsItemActive()) focus_ring(touch, at);
}

// Of a caption at 100 % and the edges above it and below the words. With the text size it grows into the room that words a quarter
// larger than at 100 % leave.
constexpr float caption_line_mm = 3.6F;
constexpr float caption_top_mm = 0.6F;
constexpr float words_bottom_mm = 0.4F;
constexpr float larger_words = 1.26F;
constexpr float lower_words = 0.8F;  // of those at 100 %: below that the caption goes in front of them
constexpr float front_part = 0.4F;   // of the width

/// Where the words of a field stand, and what they are for: above them, or in front where the field is too low for both. Not
/// while it is empty.
struct FieldLines {
    Rect words;
    Rect caption;
};

FieldLines lines_in(const Touch& touch, const Rect& at, bool has_caption) {
    const float full = em_px(Face::Body, touch.metrics);
    const float plain = em_px(Face::Body, {.px_per_mm = touch.metrics.px_per_mm});
    const Rect inside{at.x + touch.mm(2.0F), at.y, std::max(0.0F, at.w - touch.mm(4.0F)), at.h};
    const auto line_in = [&](const Rect& room, float size) { return Rect{room.x, room.y + std::floor((room.h - size) / 2.0F), room.w, size}; };
    if (!has_caption) return {{inside.x, at.y + std::max(0.0F, (at.h - full) / 2.0F), inside.w, full}, {}};
    Rect rest = inside;
    (void)cut_top(rest, touch.mm(caption_top_mm));
    (void)cut_bottom(rest, touch.mm(words_bottom_mm));
    const float least = touch.mm(caption_line_mm);
    if (rest.h - least >= lower_words * plain) {
        const Rect caption = cut_top(rest, std::clamp(rest.h - larger_words * plain, least, least * touch.metrics.text_scale()));
        return {line_in(rest, std::min(full, rest.h)), caption};
    }
    const Rect front = cut_left(rest, rest.w * front_part, touch.mm(2.0F));
    return {line_in(rest, std::min(full, rest.h)), line_in(front, std::min(least, front.h))};
}

/// The library's own line of input, its letters as high as `words`. It keeps as much room below them as above: what is more than
/// the field is cut away, for fingers too.
bool input_line(const Touch& touch, const std::string& label, const Rect& at, const Rect& words, std::string& text) {
    ImFont* font = touch.fonts.body;
    font->Scale = words.h / font->FontSize;
    ImGui::PushFont(font);
    ImGui::PushClipRect(corner(at), far_corner(at), true);
    ImGui::SetCursorScreenPos(corner(at));
    ImGui::PushStyleColor(ImGuiCol_FrameBg, IM_COL32(0, 0, 0, 0));
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {words.x - at.x, words.y - at.y});
    ImGui::SetNextItemWidth(at.w);
    const bool ended = ImGui::InputText(label.c_str(), &text, ImGuiInputTextFlags_EnterReturnsTrue);
    ImGui::PopStyleVar();
    ImGui::PopStyleColor();
    ImGui::PopClipRect();
    // Before the font that was there comes back: it may be the same.
    font->Scale = 1.0F;
    ImGui::PopFont();
    return ended;
}

}  // namespace

bool field(Touch& touch, std::string_view name, const Rect& at, std::string& text,
           std::string_view hint) {
    const std::string path = touch.named(name);
    note(touch, path, at, {.kind = SpotKind::Field, .words = text});
    if (at.w < 1.0F || at.h < 1.0F) return false;
    take_letters(touch, path, text);
    const std::string label = "##" + path;
    const ImGuiID id = ImGui::GetID(label.c_str());
    const bool focused = touch.attention.at == path;
    if (focused && ImGui::GetActiveID() != id) ImGui::SetKeyboardFocusHere();
    const FieldLines lines = lines_in(touch, at, !text.empty() && !hint.empty());
    ground(touch, at, touch.theme.key);
    // The library keeps as much room behind the words as in front of them: beside a caption its line begins behind that.
    Rect line = at;
    if (lines.caption.w > 0.0F && lines.caption.right() < lines.words.x) (void)cut_left(line, lines.words.x - touch.mm(1.0F) - at.x);
    const bool ended = input_line(touch, label, line, lines.words, text);
    // The library would draw the hint in full size and cut it at the edge.
    if (text.empty()) {
        draw_hint(touch, path, {lines.words.x, at.y, lines.words.w, at.h}, hint);
    } else {
        draw_caption(touch, path, lines.caption, hint);
        note_written(touch, path, lines.words, text);
    }
    outline(touch, at, touch.theme.line, touch.theme.line_mm * 1.6F);
    look_after_writing(touch, path, at, focused);
    return ended;
}

void lines_field(Touch& touch, std::string_view name, const Rect& at, std::string& text) {
    const std::string path = touch.named(name);
    note(touch, path, at, {.kind = SpotKind::Field, .words = text});
    if (at.w < 1.0F || at.h < 1.0F) return;
    take_letters(touch, path, text);
    const std::string label = "##" + path;
    const bool focused = touch.attention.at == path;
    if (focused && ImGui::GetActiveID() != ImGui::GetID(label.c_str())) ImGui::SetKeyboardFocusHere();
    ImGui::PushFont(touch.fonts.small);
    ImGui::SetCursorScreenPos(corner(at));
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {touch.mm(2.0F), touch.mm(2.0F)});
    ImGui::PushStyleVar(ImGuiStyleVar_FrameRounding, touch.mm(corner_mm));
    static_cast<void>(ImGui::InputTextMultiline(label.c_str(), &text, {at.w, at.h}));
    ImGui::PopStyleVar(2);
    ImGui::PopFont();
    outline(touch, at, touch.theme.line, touch.theme.line_mm * 1.6F);
    look_after_writing(touch, path, at, focused);
}

std::optional<Contact> pad(Touch& touch, std::string_view name, const Rect& at) {
    const std::string path = touch.named(name);
    note(touch, path, at, {.kind = SpotKind::Pad, .words = {}});
    if (at.w < 1.0F || at.h < 1.0F) return std::nullopt;
    ground(touch, at, touch.theme.key);
    outline(touch, at, touch.theme.line, touch.theme.line_mm * 1.6F);
    ImGui::SetCursorScreenPos(corner(at));
    (void)ImGui::InvisibleButton(path.c_str(), {at.w, at.h});
    if (!ImGui::IsItemActive()) return std::nullopt;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    return Contact{.x = std::clamp(mouse.x - at.x, 0.0F, at.w),
                   .y = std::clamp(mouse.y - at.y, 0.0F, at.h)};
}

std::optional<Contact> finger_up(Touch& touch, std::string_view name, const Rect& at) {
    const std::string path = touch.named(name);
    if (at.w < 1.0F || at.h < 1.0F) return std::nullopt;
    ImGui::SetCursorScreenPos(corner(at));
    if (!ImGui::InvisibleButton(path.c_str(), {at.w, at.h}) || touch.attention.scrolling) return std::nullopt;
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    return Contact{.x = mouse.x - at.x, .y = mouse.y - at.y};
}

void note_spot(Touch& touch, std::string_view name, const Rect& at) {
    if (touch.probe == nullptr) return;
    touch.probe->spots.insert_or_assign(
        touch.named(name), Spot{.rect = at, .kind = SpotKind::Pin, .reachable = true, .words = {}});
}

void ground(const Touch& touch, const Rect& at, Colour colour) {
    ImGui::GetWindowDrawList()->AddRectFilled(corner(at), far_corner(at), packed(colour),
                                              touch.mm(corner_mm));
}

void picture(const Touch& touch, const Rect& at, const SharedPicture& shown) {
    const std::uint64_t texture = touch.texture_of != nullptr && shown && shown->width > 0 ? (*touch.texture_of)(shown) : 0;
    if (texture == 0) return ground(touch, at, touch.theme.paper);
    const float scale = std::min(at.w / static_cast<float>(shown->width), at.h / static_cast<float>(shown->height));
    const float w = static_cast<float>(shown->width) * scale;
    const float h = static_cast<float>(shown->height) * scale;
    const Rect inside{at.x + (at.w - w) / 2.0F, at.y + (at.h - h) / 2.0F, w, h};
    // ImGui calls a texture by whatever its backend calls it, in the clothes of a pointer.
    ImGui::GetWindowDrawList()->AddImage(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture)), corner(inside), far_corner(inside));
}

void panel(const Touch& touch, const Rect& at) {
    ground(touch, at, touch.theme.panel);
    if (touch.theme.look == Look::Sun) outline(touch, at, touch.theme.line, 0.3F);
}

void outline(const Touch& touch, const Rect& at, Colour colour, float width_mm) {
    ImGui::GetWindowDrawList()->AddRect(corner(at), far_corner(at), packed(colour),
                                        touch.mm(corner_mm), 0, touch.mm(width_mm));
}

}  // namespace wm::screens
