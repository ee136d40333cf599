// Breaks long text into lines that fit, and draws them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "drawing/canvas.hpp"

namespace wm::drawing {

/// Lines no wider than `width_mm`. Breaks at spaces and at line feeds, but not between a number and
/// its unit; a word wider than the line
/// is cut between letters, so nothing ever sticks out (a single letter may). Control characters
/// become spaces. Text without a word gives no line.
[[nodiscard]] std::vector<std::string> wrapped(const Canvas& measure, std::string_view words,
                                               const TextStyle& style, double width_mm);

/// Distance of base lines for a style.
[[nodiscard]] inline double leading_mm(const TextStyle& style) {
    return style.size_mm * 1.36;
}

/// Draws the lines with the first base line at `at.y`; gives the base line after the last line.
double draw_lines(Canvas& on, Point at, const std::vector<std::string>& lines,
                  const TextStyle& style);

/// Shortens to fit with "…" at the end; what fits is unchanged.
[[nodiscard]] std::string fitted(const Canvas& measure, std::string_view words,
                                 const TextStyle& style, double width_mm);

}  // namespace wm::drawing
