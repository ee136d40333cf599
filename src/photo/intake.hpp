// Takes a photo in: checks it, turns it upright, shrinks it, and strips everything but the picture.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "photo/pixels.hpp"
#include "problem/result.hpp"

namespace wm::photo {

/// A sound baseline JPEG without any metadata (no position, no serial number of the camera, no
/// thumbnail), upright, within the limits it was taken in with.
struct Photo {
    std::string jpeg;
    int width = 0;     ///< pixels
    int height = 0;    ///< pixels
    std::string look;  ///< 16 hexadecimal digits, see look.hpp
};

struct IntakeLimits {
    int longest_side = 1600;              ///< pixels, at least 64
    std::size_t most_bytes = 130 * 1024;  ///< of the JPEG, at least 8 KiB
};

/// Accepts JPEG (baseline or progressive, grey, colour or CMYK; turned by its EXIF orientation) and
/// PNG (laid on white). `name` is used in messages only. A problem for anything else, for a file
/// that ends too early or is damaged, and for pictures beyond 100 million pixels or 60 MB.
/// The same bytes give the same photo.
[[nodiscard]] Result<Photo> take_in(std::string_view bytes, std::string_view name,
                                    IntakeLimits limits = {});

/// The upright pixels alone, with the same checks, the longest side at most `longest_side`.
[[nodiscard]] Result<Pixels> pixels_of(std::string_view bytes, std::string_view name,
                                       int longest_side);

/// True if take_in would accept the bytes as they are a JPEG that decodes to its last line. For
/// checking what is placed on a page.
[[nodiscard]] bool is_sound_jpeg(std::string_view bytes);

}  // namespace wm::photo
