// A decoded picture and the few things done to it.
#pragma once

#include <cstdint>
#include <vector>

namespace wm::photo {

/// Rows from the top, three bytes (red, green, blue) a pixel, without padding.
struct Pixels {
    int width = 0;
    int height = 0;
    std::vector<std::uint8_t> rgb;

    friend bool operator==(const Pixels&, const Pixels&) = default;
};

/// Turned so that a picture with this EXIF orientation (1 to 8) stands upright; other numbers
/// leave it as it is. Source: EXIF 2.3, tag 0x0112.
[[nodiscard]] Pixels turned(Pixels pixels, int exif_orientation);

/// Shrunk so that its longest side has at most `longest_side` pixels; smaller ones stay.
[[nodiscard]] Pixels shrunk(Pixels pixels, int longest_side);

}  // namespace wm::photo
