// Words on keys: broken into lines and shrunk until they fit.
#pragma once

#include <string_view>

#include "screens/touch.hpp"

namespace wm::screens {

/// Draws `words` within `at`, vertically in the middle. A probe hears of words that do not fit even
/// at the least size; those are drawn clipped.
void draw_label(Touch& touch, std::string_view path, const Rect& at, std::string_view words,
                const LineStyle& style);

}  // namespace wm::screens
