#include "drawing/recorded.hpp"

#include <algorithm>

#include "drawing/typeface.hpp"

namespace wm::drawing {

namespace {

template <class... Fs>
struct Cases : Fs... {
    using Fs::operator()...;
};
template <class... Fs>
Cases(Fs...) -> Cases<Fs...>;

constexpr double hair_mm = 0.1;

Box box_around(const std::vector<Point>& points) {
    if (points.empty()) return {};
    double left = points.front().x;
    double right = left;
    double top = points.front().y;
    double bottom = top;
    for (const Point& p : points) {
        left = std::min(left, p.x);
        right = std::max(right, p.x);
        top = std::min(top, p.y);
        bottom = std::max(bottom, p.y);
    }
    return {left, top, right - left, bottom - top};
}

bool overlap(const Box& a, const Box& b) {
    return std::min(a.right(), b.right()) - std::max(a.left, b.left) > hair_mm &&
           std::min(a.bottom(), b.bottom()) - std::max(a.top, b.top) > hair_mm;
}

bool within(const Box& inner, const Box& limits) {
    return inner.left >= limits.left - hair_mm && inner.top >= limits.top - hair_mm &&
           inner.right() <= limits.right() + hair_mm && inner.bottom() <= limits.bottom() + hair_mm;
}

}  // namespace

void RecordedCanvas::stroke(std::span<const Point> points, Ends ends, Stroke stroke) {
    if (points.size() < 2) return;
    drawn_.emplace_back(DrawnStroke{{points.begin(), points.end()}, ends, stroke});
}

void RecordedCanvas::fill(std::span<const Point> convex, Ink ink) {
    if (convex.size() < 3) return;
    drawn_.emplace_back(DrawnFill{{convex.begin(), convex.end()}, ink});
}

void RecordedCanvas::stroke_circle(Point centre, double radius_mm, Stroke stroke) {
    drawn_.emplace_back(DrawnCircle{centre, radius_mm, stroke});
}

void RecordedCanvas::fill_circle(Point centre, double radius_mm, Ink ink) {
    drawn_.emplace_back(DrawnCircle{centre, radius_mm, {ink, 0.0}});
}

void RecordedCanvas::stroke_box(Box box, double radius_mm, Stroke stroke) {
    drawn_.emplace_back(DrawnBox{box, radius_mm, stroke});
}

void RecordedCanvas::fill_box(Box box, double radius_mm, Ink ink) {
    drawn_.emplace_back(DrawnBox{box, radius_mm, {ink, 0.0}});
}

void RecordedCanvas::text(Point at, std::string_view words, const TextStyle& style) {
    drawn_.emplace_back(DrawnText{at, std::string{words}, style});
}

double RecordedCanvas::text_width(std::string_view words, const TextStyle& style) const {
    return line_width(words, style);
}

Box box_of(const DrawnText& text) {
    const double width = line_width(text.words, text.style);
    double left = text.at.x;
    if (text.style.anchor == Anchor::Middle) left -= width / 2.0;
    if (text.style.anchor == Anchor::End) left -= width;
    return {left, text.at.y - 0.73 * text.style.size_mm, width, 0.93 * text.style.size_mm};
}

std::vector<DrawnText> texts_of(const RecordedCanvas& canvas) {
    std::vector<DrawnText> texts;
    for (const Drawn& drawn : canvas.drawn()) {
        if (const auto* text = std::get_if<DrawnText>(&drawn)) texts.push_back(*text);
    }
    return texts;
}

std::vector<std::string> colliding_texts(const RecordedCanvas& canvas) {
    const auto texts = texts_of(canvas);
    std::vector<std::string> pairs;
    for (std::size_t i = 0; i < texts.size(); ++i) {
        for (std::size_t j = i + 1; j < texts.size(); ++j) {
            if (overlap(box_of(texts[i]), box_of(texts[j]))) {
                pairs.push_back(texts[i].words + " / " + texts[j].words);
            }
        }
    }
    return pairs;
}

std::vector<std::string> outside(const RecordedCanvas& canvas, Box limits) {
    std::vector<std::string> names;
    const auto note = [&](const Box& box, std::string name) {
        if (!within(box, limits)) names.push_back(std::move(name));
    };
    for (const Drawn& drawn : canvas.drawn()) {
        std::visit(Cases{
                       [&](const DrawnStroke& s) { note(box_around(s.points), "stroke"); },
                       [&](const DrawnFill& f) { note(box_around(f.points), "polygon"); },
                       [&](const DrawnCircle& c) {
                           note({c.centre.x - c.radius_mm, c.centre.y - c.radius_mm,
                                 2.0 * c.radius_mm, 2.0 * c.radius_mm},
                                "circle");
                       },
                       [&](const DrawnBox& b) { note(b.box, "box"); },
                       [&](const DrawnText& t) { note(box_of(t), t.words); },
                   },
                   drawn);
    }
    return names;
}

void replay(const RecordedCanvas& from, Canvas& onto) {
    for (const Drawn& drawn : from.drawn()) {
        std::visit(Cases{
                       [&](const DrawnStroke& s) { onto.stroke(s.points, s.ends, s.stroke); },
                       [&](const DrawnFill& f) { onto.fill(f.points, f.ink); },
                       [&](const DrawnCircle& c) {
                           if (c.stroke.width_mm > 0.0) {
                               onto.stroke_circle(c.centre, c.radius_mm, c.stroke);
                           } else {
                               onto.fill_circle(c.centre, c.radius_mm, c.stroke.ink);
                           }
                       },
                       [&](const DrawnBox& b) {
                           if (b.stroke.width_mm > 0.0) {
                               onto.stroke_box(b.box, b.radius_mm, b.stroke);
                           } else {
                               onto.fill_box(b.box, b.radius_mm, b.stroke.ink);
                           }
                       },
                       [&](const DrawnText& t) { onto.text(t.at, t.words, t.style); },
                   },
                   drawn);
    }
}

}  // namespace wm::drawing
