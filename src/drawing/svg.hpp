// Writes a drawing as one SVG file.
#pragma once

#include <string>

#include "drawing/canvas.hpp"

namespace wm::drawing {

/// Millimetre units throughout; colours of the printed page; text as text. `finished` may be asked
/// once or often; the same calls always give the same bytes.
class SvgCanvas final : public Canvas {
public:
    explicit SvgCanvas(Box sheet) : sheet_{sheet} {}

    void stroke(std::span<const Point> points, Ends ends, Stroke stroke) override;
    void fill(std::span<const Point> convex, Ink ink) override;
    void stroke_circle(Point centre, double radius_mm, Stroke stroke) override;
    void fill_circle(Point centre, double radius_mm, Ink ink) override;
    void stroke_box(Box box, double radius_mm, Stroke stroke) override;
    void fill_box(Box box, double radius_mm, Ink ink) override;
    void text(Point at, std::string_view words, const TextStyle& style) override;
    [[nodiscard]] double text_width(std::string_view words, const TextStyle& style) const override;

    /// The whole file: UTF-8, with `title` as its accessible name.
    [[nodiscard]] std::string finished(std::string_view title) const;

private:
    Box sheet_;
    std::string body_;
};

}  // namespace wm::drawing
