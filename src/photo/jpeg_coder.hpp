// JPEG in and out of pixels. Used by intake only.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "photo/pixels.hpp"

namespace wm::photo {

/// What the head of a JPEG says.
struct JpegHead {
    int width = 0;
    int height = 0;
};
[[nodiscard]] std::optional<JpegHead> jpeg_head(std::string_view bytes);

/// Pixels, scaled down while decoding as far as the longest side stays at or above `wanted_side`.
/// nullopt if the data is damaged or ends early; a decoder that guesses is not believed.
[[nodiscard]] std::optional<Pixels> decoded_jpeg(std::string_view bytes, int wanted_side);

/// Baseline JPEG of this quality (1 to 100), chroma halved in both directions; empty on trouble.
[[nodiscard]] std::string encoded_jpeg(const Pixels& pixels, int quality);

/// EXIF orientation, 1 if there is none.
[[nodiscard]] int exif_orientation(std::string_view bytes);

}  // namespace wm::photo
