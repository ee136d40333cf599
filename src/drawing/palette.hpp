// The colours behind the roles, for paper; screens bring their own.
#pragma once

#include <cstdint>

#include "drawing/canvas.hpp"

namespace wm::drawing {

/// 8 bits each, sRGB.
struct Colour {
    std::uint8_t red = 0;
    std::uint8_t green = 0;
    std::uint8_t blue = 0;
    friend bool operator==(const Colour&, const Colour&) = default;
};

/// Colours for a printed page. Text reaches 7 : 1 on Paper and Tint; the outcome colours differ in
/// lightness, so that a grey print still tells them apart, and no shape depends on them.
[[nodiscard]] Colour paper_colour(Ink ink);

/// Contrast of two colours as a ratio from 1 to 21.
/// Source: WCAG 2.1, definitions of relative luminance and contrast ratio.
[[nodiscard]] double contrast(Colour a, Colour b);

}  // namespace wm::drawing
