// Places a drawing of fixed own coordinates into a box on the sheet, keeping its proportions.
#pragma once

#include <algorithm>

#include "drawing/canvas.hpp"

namespace wm::figures {

/// Words that would come out smaller cannot be read and are left out.
inline constexpr double least_em_mm = 1.5;

/// Own coordinates are 0…width and 0…height; the drawing is centred in the box and as large as
/// fits.
class Frame {
public:
    Frame(double width, double height, drawing::Box into)
        : scale_{std::min(into.width / width, into.height / height)},
          left_{into.left + (into.width - width * scale_) / 2.0},
          top_{into.top + (into.height - height * scale_) / 2.0} {}

    [[nodiscard]] drawing::Point at(double x, double y) const {
        return {left_ + x * scale_, top_ + y * scale_};
    }
    [[nodiscard]] drawing::Point at(drawing::Point own) const { return at(own.x, own.y); }
    [[nodiscard]] drawing::Box at(drawing::Box own) const {
        return {left_ + own.left * scale_, top_ + own.top * scale_, own.width * scale_,
                own.height * scale_};
    }
    /// A length in own coordinates as millimetres on the sheet.
    [[nodiscard]] double mm(double own) const { return own * scale_; }

private:
    double scale_;
    double left_;
    double top_;
};

}  // namespace wm::figures
