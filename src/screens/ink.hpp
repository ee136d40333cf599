// Colours and rectangles in the types of the drawing library; for sources of this room only.
#pragma once

#include <imgui.h>

#include "drawing/palette.hpp"
#include "screens/layout.hpp"

namespace wm::screens {

[[nodiscard]] inline ImU32 packed(drawing::Colour colour) {
    return IM_COL32(colour.red, colour.green, colour.blue, 255);
}
[[nodiscard]] inline ImVec2 corner(const Rect& rect) {
    return {rect.x, rect.y};
}
[[nodiscard]] inline ImVec2 far_corner(const Rect& rect) {
    return {rect.right(), rect.bottom()};
}

}  // namespace wm::screens
