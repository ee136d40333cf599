// Words on keys and hints in fields: broken off and shrunk until they fit.
#pragma once

#include <string_view>

#include "screens/touch.hpp"

namespace wm::screens {

/// Draws `words` within `at`, vertically in the middle. A probe hears of words that do not fit even
/// at the least size; those are drawn clipped.
void draw_label(Touch& touch, std::string_view path, const Rect& at, std::string_view words,
                const LineStyle& style);

/// What is to be written in an empty field. Where the whole would be smaller than small words it is broken off at a comma,
/// and only then shrunk. A probe hears of one that does not fit even so; it is drawn clipped.
void draw_hint(Touch& touch, std::string_view path, const Rect& at, std::string_view hint);

}  // namespace wm::screens
