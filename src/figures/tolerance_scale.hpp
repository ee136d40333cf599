// One reading against its tolerance, on a level scale.
#pragma once

#include <optional>
#include <string>

#include "drawing/canvas.hpp"
#include "measure/outcome.hpp"

namespace wm::figures {

/// All numbers in one unit. `low` and `high` are the tolerance (a missing side is open),
/// `accept_low` and `accept_high` what the reading must reach under guarded acceptance; the strip
/// between is hatched. Without any limit only the reading is shown.
struct ToleranceScale {
    std::optional<double> low, high, accept_low, accept_high, target, reading;
    std::string unit;
    measure::Outcome outcome = measure::Outcome::Open;
    double text_mm = 2.4;
    /// Shown at both ends besides the limits, so that the scale does not jump while typing.
    std::optional<double> show_from, show_to;
};

/// Fills the box; at least 9 mm high and 40 mm wide looks right. A reading beyond the shown range
/// sits at the end with an arrow.
void draw_tolerance_scale(drawing::Canvas& on, drawing::Box into, const ToleranceScale& scale);

}  // namespace wm::figures
