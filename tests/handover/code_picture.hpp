// Drawn codes as a telephone takes them.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "drawing/recorded.hpp"
#include "photo/jpeg_coder.hpp"

namespace wm::handover::testing {

/// What is drawn in the colour of text, dark on white paper, as a JPEG of `side` pixels both ways with `dots` to a millimetre.
inline std::string picture_of(const drawing::RecordedCanvas& canvas, int side, int dots) {
    const auto width = static_cast<std::size_t>(side);
    photo::Pixels pixels{.width = side, .height = side, .rgb = std::vector<std::uint8_t>(width * width * 3U, 245)};
    for (const auto& drawn : canvas.drawn()) {
        const auto* box = std::get_if<drawing::DrawnBox>(&drawn);
        if (box == nullptr || box->stroke.ink != drawing::Ink::Text) continue;
        for (int y = static_cast<int>(box->box.top * dots + 0.5); y < static_cast<int>(box->box.bottom() * dots + 0.5); ++y)
            for (int x = static_cast<int>(box->box.left * dots + 0.5); x < static_cast<int>(box->box.right() * dots + 0.5); ++x) {
                if (x < 0 || y < 0 || x >= side || y >= side) continue;
                const auto at = 3U * (static_cast<std::size_t>(y) * width + static_cast<std::size_t>(x));
                for (std::size_t i = 0; i < 3; ++i) pixels.rgb[at + i] = 30;
            }
    }
    return photo::encoded_jpeg(pixels, 85);
}

}  // namespace wm::handover::testing
