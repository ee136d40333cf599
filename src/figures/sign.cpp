#include "figures/sign.hpp"

#include "drawing/shapes.hpp"

namespace wm::figures {

void draw_sign(drawing::Canvas& on, drawing::Point centre, double size_mm) {
    const double r = size_mm / 2.0;
    const drawing::Stroke rim{drawing::Ink::Text, 0.16 * r};
    // The split runs level, half a stroke wide; the paint line crosses it a little off upright.
    drawing::stroke_arc(on, {{centre.x, centre.y - 0.1 * r}, r, 186.0, 354.0}, rim);
    drawing::stroke_arc(on, {{centre.x, centre.y + 0.1 * r}, r, 6.0, 174.0}, rim);
    const drawing::Stroke paint{drawing::Ink::Accent, 0.34 * r};
    const double lean = 0.35;
    on.line({centre.x + 1.35 * r * lean, centre.y - 1.35 * r},
            {centre.x + 0.3 * r * lean, centre.y - 0.3 * r}, paint);
    on.line({centre.x - 0.3 * r * lean, centre.y + 0.3 * r},
            {centre.x - 1.35 * r * lean, centre.y + 1.35 * r}, paint);
}

}  // namespace wm::figures
