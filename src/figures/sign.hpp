// Our sign: two short strokes in line across a split circle, as the paint line over nut and base.
#pragma once

#include "drawing/canvas.hpp"

namespace wm::figures {

/// `size_mm` is the height of the circle; the strokes reach a fifth of it beyond on both sides.
void draw_sign(drawing::Canvas& on, drawing::Point centre, double size_mm);

}  // namespace wm::figures
