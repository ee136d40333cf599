// The square code of page one: text to modules on a canvas, and a picture of it back to text.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "drawing/canvas.hpp"
#include "problem/result.hpp"

namespace wm::handover {

/// Draws the text as a QR code (model 2, level M) with its quiet zone of four modules inside the
/// square `box`. A problem if the text is empty or longer than a code can hold.
[[nodiscard]] Result<void> draw_square_code(drawing::Canvas& on, drawing::Box box,
                                            std::string_view text);

/// The text of the one QR code in a photo or scan (JPEG or PNG), also turned or bent a little.
/// A problem if there is none that can be read.
[[nodiscard]] Result<std::string> read_square_code(std::string_view picture, std::string_view name);

struct SquareCode {
    std::string text;
    bool is_on_middle = false;  ///< the middle of the picture lies on it
};

/// All of them, at least one. A problem if there is none that can be read.
[[nodiscard]] Result<std::vector<SquareCode>> read_square_codes(std::string_view picture, std::string_view name);

}  // namespace wm::handover
