// A canvas that only remembers, for tests: what was drawn, where, and whether words collide.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "drawing/canvas.hpp"

namespace wm::drawing {

struct DrawnStroke {
    std::vector<Point> points;
    Ends ends = Ends::Open;
    Stroke stroke;
};
struct DrawnFill {
    std::vector<Point> points;
    Ink ink = Ink::Text;
};
/// Filled circles have a stroke width of 0.
struct DrawnCircle {
    Point centre;
    double radius_mm = 0.0;
    Stroke stroke;
};
/// Filled boxes have a stroke width of 0.
struct DrawnBox {
    Box box;
    double radius_mm = 0.0;
    Stroke stroke;
};
struct DrawnText {
    Point at;
    std::string words;
    TextStyle style;
};
using Drawn = std::variant<DrawnStroke, DrawnFill, DrawnCircle, DrawnBox, DrawnText>;

class RecordedCanvas final : public Canvas {
public:
    void stroke(std::span<const Point> points, Ends ends, Stroke stroke) override;
    void fill(std::span<const Point> convex, Ink ink) override;
    void stroke_circle(Point centre, double radius_mm, Stroke stroke) override;
    void fill_circle(Point centre, double radius_mm, Ink ink) override;
    void stroke_box(Box box, double radius_mm, Stroke stroke) override;
    void fill_box(Box box, double radius_mm, Ink ink) override;
    void text(Point at, std::string_view words, const TextStyle& style) override;
    [[nodiscard]] double text_width(std::string_view words, const TextStyle& style) const override;

    [[nodiscard]] const std::vector<Drawn>& drawn() const { return drawn_; }

private:
    std::vector<Drawn> drawn_;
};

/// The ink box of a text: its advance width, from cap height above to descent below the line.
[[nodiscard]] Box box_of(const DrawnText& text);

/// All texts in drawing order.
[[nodiscard]] std::vector<DrawnText> texts_of(const RecordedCanvas& canvas);

/// "first / second" for each pair of texts whose boxes overlap by more than a hair (0.1 mm).
[[nodiscard]] std::vector<std::string> colliding_texts(const RecordedCanvas& canvas);

/// The words of each text and a short name of each shape that reaches outside `limits`.
[[nodiscard]] std::vector<std::string> outside(const RecordedCanvas& canvas, Box limits);

/// Draws all remembered commands again on another canvas.
void replay(const RecordedCanvas& from, Canvas& onto);

}  // namespace wm::drawing
