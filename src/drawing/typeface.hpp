// Widths of the letters we print with, so that a page can be measured without a font library.
#pragma once

#include <cstdint>
#include <string_view>

#include "drawing/canvas.hpp"

namespace wm::drawing {

/// Reads the next code point of UTF-8 text at `at` and moves `at` behind it; a byte that is no
/// UTF-8 counts as U+FFFD and moves by one.
[[nodiscard]] char32_t next_code_point(std::string_view text, std::size_t& at);

/// Advance width in thousandths of the em of DejaVu Sans, DejaVu Sans Bold or DejaVu Sans Mono
/// for Latin, Greek, Cyrillic, punctuation, arrows and the signs we use; other code points count
/// as wide (1000), so that nothing is measured too narrow.
[[nodiscard]] int advance_of(char32_t letter, Weight weight);

/// Width of one line in millimetres, without kerning.
[[nodiscard]] double line_width(std::string_view words, const TextStyle& style);

}  // namespace wm::drawing
