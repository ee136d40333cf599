#include "drawing/svg.hpp"

#include <fmt/format.h>

#include "drawing/palette.hpp"
#include "drawing/typeface.hpp"

namespace wm::drawing {

namespace {

std::string hex(Ink ink) {
    const Colour c = paper_colour(ink);
    return fmt::format("#{:02x}{:02x}{:02x}", c.red, c.green, c.blue);
}

/// Micrometres are enough and keep the file the same on every machine.
std::string mm(double value) {
    std::string text = fmt::format("{:.3f}", value);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

std::string points_text(std::span<const Point> points) {
    std::string text;
    for (const Point& p : points) {
        if (!text.empty()) text += ' ';
        text += mm(p.x) + "," + mm(p.y);
    }
    return text;
}

std::string escaped(std::string_view words) {
    std::string text;
    for (const char c : words) {
        switch (c) {
            case '&':
                text += "&amp;";
                break;
            case '<':
                text += "&lt;";
                break;
            case '>':
                text += "&gt;";
                break;
            case '"':
                text += "&quot;";
                break;
            default:
                text += static_cast<unsigned char>(c) < 0x20 ? ' ' : c;
                break;
        }
    }
    return text;
}

std::string pen(Stroke stroke) {
    return fmt::format(R"(fill="none" stroke="{}" stroke-width="{}")", hex(stroke.ink),
                       mm(stroke.width_mm));
}

std::string box_attributes(Box box, double radius_mm) {
    return fmt::format(R"(x="{}" y="{}" width="{}" height="{}" rx="{}")", mm(box.left), mm(box.top),
                       mm(box.width), mm(box.height), mm(radius_mm));
}

const char* anchor_word(Anchor anchor) {
    switch (anchor) {
        case Anchor::Start:
            return "start";
        case Anchor::Middle:
            return "middle";
        case Anchor::End:
            return "end";
    }
    return "start";
}

const char* face(Weight weight) {
    return weight == Weight::Mono ? "DejaVu Sans Mono, monospace" : "DejaVu Sans, sans-serif";
}

}  // namespace

void SvgCanvas::stroke(std::span<const Point> points, Ends ends, Stroke stroke) {
    if (points.size() < 2) return;
    body_ += fmt::format(
        "<{} points=\"{}\" {} stroke-linecap=\"round\" stroke-linejoin=\"round\"/>\n",
        ends == Ends::Closed ? "polygon" : "polyline", points_text(points), pen(stroke));
}

void SvgCanvas::fill(std::span<const Point> convex, Ink ink) {
    if (convex.size() < 3) return;
    body_ += fmt::format("<polygon points=\"{}\" fill=\"{}\"/>\n", points_text(convex), hex(ink));
}

void SvgCanvas::stroke_circle(Point centre, double radius_mm, Stroke stroke) {
    body_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" {}/>\n", mm(centre.x), mm(centre.y),
                         mm(radius_mm), pen(stroke));
}

void SvgCanvas::fill_circle(Point centre, double radius_mm, Ink ink) {
    body_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"{}\"/>\n", mm(centre.x),
                         mm(centre.y), mm(radius_mm), hex(ink));
}

void SvgCanvas::stroke_box(Box box, double radius_mm, Stroke stroke) {
    body_ += fmt::format("<rect {} {}/>\n", box_attributes(box, radius_mm), pen(stroke));
}

void SvgCanvas::fill_box(Box box, double radius_mm, Ink ink) {
    body_ += fmt::format("<rect {} fill=\"{}\"/>\n", box_attributes(box, radius_mm), hex(ink));
}

void SvgCanvas::text(Point at, std::string_view words, const TextStyle& style) {
    body_ += fmt::format(
        "<text x=\"{}\" y=\"{}\" font-family=\"{}\" font-size=\"{}\" font-weight=\"{}\" "
        "text-anchor=\"{}\" fill=\"{}\">{}</text>\n",
        mm(at.x), mm(at.y), face(style.weight), mm(style.size_mm),
        style.weight == Weight::Bold ? "bold" : "normal", anchor_word(style.anchor), hex(style.ink),
        escaped(words));
}

double SvgCanvas::text_width(std::string_view words, const TextStyle& style) const {
    return line_width(words, style);
}

std::string SvgCanvas::finished(std::string_view title) const {
    return fmt::format(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}mm\" height=\"{}mm\" "
        "viewBox=\"{} {} {} {}\" role=\"img\">\n<title>{}</title>\n"
        "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{}\"/>\n{}</svg>\n",
        mm(sheet_.width), mm(sheet_.height), mm(sheet_.left), mm(sheet_.top), mm(sheet_.width),
        mm(sheet_.height), escaped(title), mm(sheet_.left), mm(sheet_.top), mm(sheet_.width),
        mm(sheet_.height), hex(Ink::Paper), body_);
}

}  // namespace wm::drawing
