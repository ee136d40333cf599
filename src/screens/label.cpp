// Fitting words into boxes and fields, prose, and the scrolling area.
#include "screens/label.hpp"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "screens/ink.hpp"

namespace wm::screens {
namespace {

using drawing::Colour;

// Words first come down to the size of 100 % and only then take its steps: whoever chose larger letters never gets smaller ones.
constexpr std::array<float, 7> from_enlarged{1.0F, 0.9F, 0.8F, 0.73F, 0.667F, 0.6F, 0.55F};
constexpr std::array<float, 12> shrinking{1.0F, 0.9F,  0.8F,  0.73F, 0.667F, 0.6F,
                                          0.5F, 0.45F, 0.38F, 0.32F, 0.26F,  0.2F};
// Shrinking stops at letters whose capitals are 2 mm: a line is 1.164 em and capitals 1493 of 2048 units of the em, in DejaVu.
constexpr float least_line_mm = 2.0F * 2048.0F / 1493.0F * 1.164F;
// Words that do not fit even so are a defect, which a probe hears of; letters a little too small are a lesser one than half a word.
constexpr float last_resort = 0.85F;

float plain_px(Face face, const Touch& touch) {
    return em_px(face, {.px_per_mm = touch.metrics.px_per_mm});
}

float width_of(const ImFont* font, float size, std::string_view words) {
    return font->CalcTextSizeA(size, 1.0e9F, 0.0F, words.data(), words.data() + words.size()).x;
}

/// Lines broken at spaces; empty when one word is wider than `width`.
std::vector<std::string_view> broken(const ImFont* font, float size, std::string_view words,
                                     float width) {
    std::vector<std::string_view> lines;
    std::size_t start = 0;
    std::size_t end = 0;
    while (end < words.size()) {
        std::size_t next = words.find(' ', end + 1);
        if (next == std::string_view::npos) next = words.size();
        if (width_of(font, size, words.substr(start, next - start)) <= width) {
            end = next;
            continue;
        }
        if (end == start) return {};
        lines.push_back(words.substr(start, end - start));
        start = end + 1;
        end = start;
    }
    if (start < words.size()) lines.push_back(words.substr(start));
    return lines;
}

float x_of(const Rect& at, float width, Across across) {
    switch (across) {
        case Across::Left:
            return at.x;
        case Across::Middle:
            return at.x + (at.w - width) / 2.0F;
        case Across::Right:
            return at.right() - width;
    }
    return at.x;
}

void draw_at(const ImFont* font, float size, ImVec2 where, Colour colour, std::string_view words) {
    ImGui::GetWindowDrawList()->AddText(font, size, where, packed(colour), words.data(),
                                        words.data() + words.size());
}

void draw_lines_of(const ImFont* font, float size, const Rect& at,
                   const std::vector<std::string_view>& lines, const LineStyle& style) {
    const float total = size * static_cast<float>(lines.size());
    float y = std::round(at.y + (at.h - total) / 2.0F);
    for (const std::string_view line : lines) {
        const float width = width_of(font, size, line);
        draw_at(font, size, {std::round(x_of(at, width, style.across)), y}, style.colour, line);
        y += size;
    }
}

void note_letters(const Touch& touch, std::string_view path, std::string_view words, float size,
                  float wanted) {
    if (touch.probe == nullptr) return;
    touch.probe->letters.push_back({.path = std::string{path}, .words = std::string{words}, .size_px = size, .wanted_px = wanted});
}

/// Where the words noted last stand, and what is seen of it.
void note_place(const Touch& touch, const Rect& at) {
    if (touch.probe == nullptr) return;
    const ImVec2 low = ImGui::GetWindowDrawList()->GetClipRectMin();
    const ImVec2 high = ImGui::GetWindowDrawList()->GetClipRectMax();
    const float left = std::max(at.x, low.x);
    const float top = std::max(at.y, low.y);
    Lettering& letters = touch.probe->letters.back();
    letters.at = at;
    letters.seen = {left, top, std::max(0.0F, std::min(at.right(), high.x) - left), std::max(0.0F, std::min(at.bottom(), high.y) - top)};
}

/// Prose is drawn whole, so what is higher than its place lies over something else.
void note_overflow(const Touch& touch, std::string_view words, float height, float room) {
    if (touch.probe == nullptr || height <= room + 1.0F) return;
    touch.probe->cut_off.push_back(touch.path + ": " + std::string{words});
}

}  // namespace

void draw_label(Touch& touch, std::string_view path, const Rect& at, std::string_view words,
                const LineStyle& style) {
    if (words.empty() || at.w < 1.0F || at.h < 1.0F) return;
    const ImFont* font = touch.fonts.of(style.face);
    const float full = em_px(style.face, touch.metrics);
    const float plain = plain_px(style.face, touch);
    const float least = std::min(plain, touch.mm(least_line_mm));
    const auto drawn_at = [&](float size) {
        const auto lines = broken(font, size, words, at.w);
        if (lines.empty() || size * static_cast<float>(lines.size()) > at.h + 1.0F) return false;
        note_letters(touch, path, words, size, full);
        draw_lines_of(font, size, at, lines, style);
        return true;
    };
    for (const float part : from_enlarged)
        if (full * part > plain && drawn_at(full * part)) return;
    for (const float part : shrinking)
        if (drawn_at(std::max(least, plain * part))) return;
    if (touch.probe != nullptr) touch.probe->cut_off.push_back(std::string{path} + ": " + std::string{words});
    if (drawn_at(least * last_resort)) return;
    ImGui::GetWindowDrawList()->PushClipRect(corner(at), far_corner(at), true);
    prose(touch, at, words, Face::Small, style.colour);
    ImGui::GetWindowDrawList()->PopClipRect();
}

bool fits_line(const Touch& touch, const Rect& at, std::string_view words, Face face) {
    const float least = std::min(em_px(face, touch.metrics), touch.mm(least_line_mm));
    return width_of(touch.fonts.of(face), least, words) <= at.w;
}

bool fits_plain(const Touch& touch, const Rect& at, std::string_view words, Face face) {
    const float size = plain_px(face, touch);
    const auto lines = broken(touch.fonts.of(face), size, words, at.w);
    return !lines.empty() && size * static_cast<float>(lines.size()) <= at.h + 1.0F;
}

void draw_hint(Touch& touch, std::string_view path, const Rect& at, std::string_view hint) {
    if (hint.empty() || at.w < 1.0F || at.h < 1.0F) return;
    const Face face = touch.theme.look == Look::Sun ? Face::Small : Face::Body;
    const ImFont* font = touch.fonts.of(face);
    const float full = em_px(face, touch.metrics);
    // Independent of the text size: larger letters must not say less.
    const float small = plain_px(Face::Small, touch);
    const auto fitting_size = [&](std::string_view words) { return std::min(full, full * at.w / width_of(font, full, words)); };
    std::string_view words = hint;
    while (fitting_size(words) < small) {
        const std::size_t comma = words.rfind(", ");
        if (comma == std::string_view::npos) break;
        words = words.substr(0, comma);
    }
    const float size = std::max(fitting_size(words), std::min(full, touch.mm(least_line_mm)));
    const bool over = width_of(font, size, words) > at.w + 1.0F;
    note_letters(touch, path, words, size, full);
    if (over && touch.probe != nullptr) touch.probe->cut_off.push_back(std::string{path} + ": " + std::string{words});
    ImGui::GetWindowDrawList()->PushClipRect(corner(at), far_corner(at), true);
    draw_at(font, size, {std::round(at.x), std::round(at.y + (at.h - size) / 2.0F)}, touch.theme.quiet, words);
    ImGui::GetWindowDrawList()->PopClipRect();
}

void draw_caption(Touch& touch, std::string_view path, const Rect& at, std::string_view hint) {
    if (hint.empty() || at.w < 1.0F || at.h < 1.0F) return;
    const ImFont* font = touch.fonts.small;
    std::string_view words = hint;
    while (width_of(font, at.h, words) > at.w) {
        const std::size_t comma = words.rfind(", ");
        if (comma == std::string_view::npos) break;
        words = words.substr(0, comma);
    }
    const float size = std::max(std::min(at.h, touch.mm(least_line_mm)), std::min(at.h, at.h * at.w / width_of(font, at.h, words)));
    const float width = width_of(font, size, words);
    note_letters(touch, path, words, size, at.h);
    note_place(touch, {at.x, at.y, std::min(at.w, width), size});
    if (width > at.w + 1.0F && touch.probe != nullptr) touch.probe->cut_off.push_back(std::string{path} + ": " + std::string{words});
    ImGui::GetWindowDrawList()->PushClipRect(corner(at), far_corner(at), true);
    draw_at(font, size, {std::round(at.x), std::round(at.y)}, touch.theme.quiet, words);
    ImGui::GetWindowDrawList()->PopClipRect();
}

void note_written(const Touch& touch, std::string_view path, const Rect& at, std::string_view words) {
    note_letters(touch, path, words, at.h, em_px(Face::Body, touch.metrics));
    note_place(touch, at);
}

float line_of_text(Touch& touch, const Rect& at, std::string_view words, const LineStyle& style) {
    if (words.empty()) return 0.0F;
    const ImFont* font = touch.fonts.of(style.face);
    float size = std::min(em_px(style.face, touch.metrics), std::max(at.h, touch.mm(least_line_mm)));
    const float least = std::min(size, touch.mm(least_line_mm));
    float width = width_of(font, size, words);
    if (width > at.w && at.w > 0.0F) {
        size = std::max(least, size * at.w / width);
        width = width_of(font, size, words);
    }
    ImDrawList* list = ImGui::GetWindowDrawList();
    if (touch.probe != nullptr) {
        touch.probe->texts.emplace_back(words);
        if (width > at.w + 1.0F) touch.probe->cut_off.push_back(touch.path + ": " + std::string{words});
    }
    if (width > at.w + 1.0F) {
        size = std::max(least * last_resort, size * at.w / width);
        width = width_of(font, size, words);
    }
    const bool over = width > at.w + 1.0F;
    note_letters(touch, touch.path, words, size, em_px(style.face, touch.metrics));
    if (over) list->PushClipRect(corner(at), far_corner(at), true);
    const float x = over ? at.x : x_of(at, width, style.across);
    draw_at(font, size, {std::round(x), std::round(at.y + (at.h - size) / 2.0F)}, style.colour,
            words);
    if (over) list->PopClipRect();
    return std::min(width, at.w);
}

namespace {

/// Lines that break at spaces alone: the library's own wrapping parts a number behind its point. Empty where a word is wider
/// than the line.
std::vector<std::string_view> lines_of(const ImFont* font, float size, std::string_view words, float width) {
    std::vector<std::string_view> lines;
    for (std::size_t start = 0; start <= words.size();) {
        const std::size_t end = std::min(words.find('\n', start), words.size());
        const auto paragraph = words.substr(start, end - start);
        const auto parts = broken(font, size, paragraph, width);
        if (parts.empty() && !paragraph.empty()) return {};
        if (parts.empty()) lines.push_back(paragraph);
        lines.insert(lines.end(), parts.begin(), parts.end());
        start = end + 1;
    }
    return lines;
}

}  // namespace

float prose_height(const Touch& touch, float width, std::string_view words, Face face) {
    if (words.empty()) return 0.0F;
    const ImFont* font = touch.fonts.of(face);
    const float size = em_px(face, touch.metrics);
    if (const auto lines = lines_of(font, size, words, std::max(1.0F, width)); !lines.empty())
        return static_cast<float>(lines.size()) * size;
    return font
        ->CalcTextSizeA(em_px(face, touch.metrics), 1.0e9F, std::max(1.0F, width), words.data(),
                        words.data() + words.size())
        .y;
}

float prose(Touch& touch, const Rect& at, std::string_view words, Face face, Colour colour) {
    if (words.empty()) return 0.0F;
    if (touch.probe != nullptr) touch.probe->texts.emplace_back(words);
    const float height = prose_height(touch, at.w, words, face);
    note_letters(touch, touch.path, words, em_px(face, touch.metrics), em_px(face, touch.metrics));
    note_place(touch, {at.x, at.y, at.w, height});
    note_overflow(touch, words, height, at.h);
    const float size = em_px(face, touch.metrics);
    const auto lines = lines_of(touch.fonts.of(face), size, words, std::max(1.0F, at.w));
    ImDrawList* list = ImGui::GetWindowDrawList();
    for (std::size_t i = 0; i < lines.size(); ++i)
        list->AddText(touch.fonts.of(face), size, {at.x, at.y + static_cast<float>(i) * size}, packed(colour), lines[i].data(),
                      lines[i].data() + lines[i].size());
    if (lines.empty())
        list->AddText(touch.fonts.of(face), size, corner(at), packed(colour), words.data(), words.data() + words.size(),
                      std::max(1.0F, at.w));
    return height;
}

namespace {

constexpr float between_words_mm = 1.2F;  // above the first words of an area, and beneath each
constexpr float bar_mm = 2.4F + 1.2F;     // the bar and the room before it
constexpr float low_area_mm = 36.0F;      // lower than that its bar is hardly seen, and not at all below 10 mm

}  // namespace

float paragraphs_height(const Touch& touch, float width, const std::vector<Paragraph>& paragraphs) {
    float height = touch.mm(between_words_mm);
    for (const Paragraph& one : paragraphs) height += prose_height(touch, width - touch.mm(bar_mm), one.words, one.face) + touch.mm(between_words_mm);
    return height;
}

float whole_lines(const Touch& touch, float width, float height, const std::vector<Paragraph>& paragraphs) {
    if (paragraphs_height(touch, width, paragraphs) - touch.mm(between_words_mm) <= height) return height;
    // Letters do not reach up to the edge of their line.
    const float edge = touch.mm(0.5F);
    float seen = 0.0F;
    float y = touch.mm(between_words_mm);
    for (const Paragraph& one : paragraphs) {
        const float line = em_px(one.face, touch.metrics);
        for (float left = prose_height(touch, width - touch.mm(bar_mm), one.words, one.face); left > 0.5F * line; left -= line) {
            y += line;
            if (y + edge > height + 0.5F) return seen;  // what was cut to it comes back rounded
            seen = y + edge;
        }
        y += touch.mm(between_words_mm);
    }
    return height;
}

ScrollArea::ScrollArea(Touch& touch, std::string_view name, const Rect& at)
    : touch_{touch}, scope_{touch, name}, at_{at} {
    ImGui::SetCursorScreenPos(corner(at));
    ImGui::BeginChild(touch.path.c_str(), {std::max(1.0F, at.w), std::max(1.0F, at.h)}, false,
                      ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoNav);
    width_ = ImGui::GetContentRegionAvail().x - touch.mm(1.2F);
    const ImVec2 start = ImGui::GetCursorScreenPos();
    top_ = start.y + touch.mm(between_words_mm);
    y_ = top_;
    at_.x = start.x + touch.mm(0.6F);
}

ScrollArea::~ScrollArea() {
    mark_more();
    ImGui::SetCursorScreenPos({at_.x, y_});
    ImGui::Dummy({1.0F, touch_.mm(1.0F)});
    const ImGuiIO& io = ImGui::GetIO();
    const bool started_here = at_.holds(io.MouseClickedPos[0].x, io.MouseClickedPos[0].y);
    if (ImGui::IsMouseDown(0) && started_here && ImGui::GetScrollMaxY() > 0.0F) {
        const float moved = std::abs(io.MousePos.y - io.MouseClickedPos[0].y);
        if (moved > touch_.mm(4.0F)) touch_.attention.scrolling = true;
        if (touch_.attention.scrolling) ImGui::SetScrollY(ImGui::GetScrollY() - io.MouseDelta.y);
    }
    ImGui::EndChild();
}

/// A sign in place of the bar, which the library leaves out of a low area.
void ScrollArea::mark_more() {
    if (at_.h >= touch_.mm(low_area_mm) || ImGui::GetScrollMaxY() - ImGui::GetScrollY() < 1.0F) return;
    if (touch_.probe != nullptr) touch_.probe->more_below.push_back(touch_.path);
    const float right = at_.right() - touch_.mm(0.6F);
    const float bottom = at_.bottom() - touch_.mm(0.4F);
    const ImVec2 low{right - touch_.mm(3.2F), bottom - touch_.mm(2.4F)};
    ImDrawList* list = ImGui::GetWindowDrawList();
    // It stands where the bar does, which is no part of the content.
    list->PushClipRect({at_.x, at_.y}, {at_.right(), at_.bottom()}, false);
    list->AddTriangleFilled(low, {right, low.y}, {(low.x + right) / 2.0F, bottom}, packed(touch_.theme.text));
    list->PopClipRect();
}

Rect ScrollArea::take(float height, float gap) {
    const Rect strip{at_.x, y_, width_, height};
    y_ += height + gap;
    return strip;
}

bool ScrollArea::is_near(const Rect& strip) const {
    return strip.y + strip.h >= at_.y - at_.h && strip.y <= at_.y + 2.0F * at_.h;
}

void ScrollArea::words(std::string_view text, Face face) {
    words(text, face, touch_.theme.text);
}

void ScrollArea::words(std::string_view text, Face face, Colour colour) {
    const float height = prose_height(touch_, width_, text, face);
    prose(touch_, take(height, touch_.mm(1.2F)), text, face, colour);
}

void ScrollArea::heading(std::string_view text) {
    if (y_ > top_) space(2.0F);
    words(text, Face::Bold);
}

void ScrollArea::space(float millimetres) {
    y_ += touch_.mm(millimetres);
}
void ScrollArea::to_top() { ImGui::SetScrollY(0.0F); }

void ScrollArea::look_here() { ImGui::SetScrollHereY(0.5F); }

}  // namespace wm::screens
