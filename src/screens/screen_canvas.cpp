// Canvas calls as ImGui draw lists.
#include "screens/screen_canvas.hpp"

#include <imgui.h>

#include <algorithm>
#include <vector>

#include "screens/ink.hpp"

namespace wm::screens {
namespace {

using drawing::Box;
using drawing::Ink;
using drawing::Point;

constexpr float line_of_em = 1.164F;     // a font's line over its em, in DejaVu
constexpr float ascent_of_line = 0.80F;  // base line below the top of the line

struct Scale {
    float x, y, px;
    ImVec2 operator()(Point p) const {
        return {x + static_cast<float>(p.x) * px, y + static_cast<float>(p.y) * px};
    }
    float operator()(double mm) const { return static_cast<float>(mm) * px; }
};

// Lines thinner than a pixel vanish on dark panels.
float thickness(double px) {
    return std::max(1.0F, static_cast<float>(px));
}

const ImFont* font_of(const Fonts& fonts, const drawing::TextStyle& style, float size) {
    if (style.weight == drawing::Weight::Bold) return fonts.bold;
    return size < fonts.small->FontSize * 1.2F ? fonts.small : fonts.body;
}

}  // namespace

ScreenCanvas::ScreenCanvas(const Touch& touch, const Rect& at) : touch_{touch}, at_{at} {
    ImGui::GetWindowDrawList()->PushClipRect(corner(at), far_corner(at), true);
}
ScreenCanvas::~ScreenCanvas() {
    ImGui::GetWindowDrawList()->PopClipRect();
}

Box ScreenCanvas::sheet() const {
    const double px = touch_.metrics.px_per_mm;
    return {0.0, 0.0, at_.w / px, at_.h / px};
}

void ScreenCanvas::stroke(std::span<const Point> points, drawing::Ends ends, drawing::Stroke with) {
    if (points.size() < 2) return;
    const Scale to{at_.x, at_.y, touch_.metrics.px_per_mm};
    std::vector<ImVec2> corners;
    corners.reserve(points.size());
    for (const Point point : points) corners.push_back(to(point));
    ImGui::GetWindowDrawList()->AddPolyline(
        corners.data(), static_cast<int>(corners.size()), packed(touch_.theme.ink(with.ink)),
        ends == drawing::Ends::Closed ? ImDrawFlags_Closed : 0, thickness(to(with.width_mm)));
}

void ScreenCanvas::fill(std::span<const Point> convex, Ink ink) {
    if (convex.size() < 3) return;
    const Scale to{at_.x, at_.y, touch_.metrics.px_per_mm};
    std::vector<ImVec2> corners;
    corners.reserve(convex.size());
    for (const Point point : convex) corners.push_back(to(point));
    ImGui::GetWindowDrawList()->AddConvexPolyFilled(
        corners.data(), static_cast<int>(corners.size()), packed(touch_.theme.ink(ink)));
}

void ScreenCanvas::stroke_circle(Point centre, double radius_mm, drawing::Stroke with) {
    const Scale to{at_.x, at_.y, touch_.metrics.px_per_mm};
    ImGui::GetWindowDrawList()->AddCircle(to(centre), to(radius_mm),
                                          packed(touch_.theme.ink(with.ink)), 0,
                                          thickness(to(with.width_mm)));
}

void ScreenCanvas::fill_circle(Point centre, double radius_mm, Ink ink) {
    const Scale to{at_.x, at_.y, touch_.metrics.px_per_mm};
    ImGui::GetWindowDrawList()->AddCircleFilled(to(centre), to(radius_mm),
                                                packed(touch_.theme.ink(ink)));
}

void ScreenCanvas::stroke_box(Box box, double radius_mm, drawing::Stroke with) {
    const Scale to{at_.x, at_.y, touch_.metrics.px_per_mm};
    ImGui::GetWindowDrawList()->AddRect(to({box.left, box.top}), to({box.right(), box.bottom()}),
                                        packed(touch_.theme.ink(with.ink)), to(radius_mm), 0,
                                        thickness(to(with.width_mm)));
}

void ScreenCanvas::fill_box(Box box, double radius_mm, Ink ink) {
    const Scale to{at_.x, at_.y, touch_.metrics.px_per_mm};
    ImGui::GetWindowDrawList()->AddRectFilled(to({box.left, box.top}),
                                              to({box.right(), box.bottom()}),
                                              packed(touch_.theme.ink(ink)), to(radius_mm));
}

double ScreenCanvas::text_width(std::string_view words, const drawing::TextStyle& style) const {
    const float size = static_cast<float>(style.size_mm) * touch_.metrics.px_per_mm * line_of_em;
    const ImFont* font = font_of(touch_.fonts, style, size);
    return font->CalcTextSizeA(size, 1.0e9F, 0.0F, words.data(), words.data() + words.size()).x /
           touch_.metrics.px_per_mm;
}

void ScreenCanvas::text(Point at, std::string_view words, const drawing::TextStyle& style) {
    const Scale to{at_.x, at_.y, touch_.metrics.px_per_mm};
    const float size = to(style.size_mm) * line_of_em;
    const ImFont* font = font_of(touch_.fonts, style, size);
    if (touch_.probe != nullptr) touch_.probe->letters.push_back({touch_.path, std::string{words}, size, size, true});
    const double width = text_width(words, style);
    Point start = at;
    if (style.anchor == drawing::Anchor::Middle) start.x -= width / 2.0;
    if (style.anchor == drawing::Anchor::End) start.x -= width;
    ImVec2 where = to(start);
    where.y -= size * ascent_of_line;
    ImGui::GetWindowDrawList()->AddText(font, size, where, packed(touch_.theme.ink(style.ink)),
                                        words.data(), words.data() + words.size());
}

}  // namespace wm::screens
