// The Canvas on the window: millimetres become pixels of the panel, inks become the theme's
// colours.
#pragma once

#include "drawing/canvas.hpp"
#include "screens/touch.hpp"

namespace wm::screens {

/// Draws into the part of the window that is being filled; its origin is the corner of `at`, and
/// nothing reaches outside `at`. Valid within one frame.
class ScreenCanvas final : public drawing::Canvas {
public:
    ScreenCanvas(const Touch& touch, const Rect& at);
    ~ScreenCanvas() override;

    void stroke(std::span<const drawing::Point> points, drawing::Ends ends,
                drawing::Stroke stroke) override;
    void fill(std::span<const drawing::Point> convex, drawing::Ink ink) override;
    void stroke_circle(drawing::Point centre, double radius_mm, drawing::Stroke stroke) override;
    void fill_circle(drawing::Point centre, double radius_mm, drawing::Ink ink) override;
    void stroke_box(drawing::Box box, double radius_mm, drawing::Stroke stroke) override;
    void fill_box(drawing::Box box, double radius_mm, drawing::Ink ink) override;
    void text(drawing::Point at, std::string_view words, const drawing::TextStyle& style) override;
    [[nodiscard]] double text_width(std::string_view words,
                                    const drawing::TextStyle& style) const override;

    /// The sheet in millimetres.
    [[nodiscard]] drawing::Box sheet() const;

private:
    const Touch& touch_;
    Rect at_;
};

}  // namespace wm::screens
