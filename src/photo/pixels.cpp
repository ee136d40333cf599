#include "photo/pixels.hpp"

#include <stb/stb_image_resize.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace wm::photo {

namespace {

std::size_t offset(int width, int x, int y) {
    return 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(width) +
                static_cast<std::size_t>(x));
}

/// Where the pixel (x, y) of the upright picture is taken from.
std::pair<int, int> origin(int orientation, int width, int height, int x, int y) {
    switch (orientation) {
        case 2:
            return {width - 1 - x, y};
        case 3:
            return {width - 1 - x, height - 1 - y};
        case 4:
            return {x, height - 1 - y};
        case 5:
            return {y, x};
        case 6:
            return {y, height - 1 - x};
        case 7:
            return {width - 1 - y, height - 1 - x};
        case 8:
            return {width - 1 - y, x};
        default:
            return {x, y};
    }
}

}  // namespace

Pixels turned(Pixels pixels, int exif_orientation) {
    if (exif_orientation < 2 || exif_orientation > 8) return pixels;
    Pixels upright;
    const bool swaps_sides = exif_orientation >= 5;
    upright.width = swaps_sides ? pixels.height : pixels.width;
    upright.height = swaps_sides ? pixels.width : pixels.height;
    upright.rgb.resize(pixels.rgb.size());
    for (int y = 0; y < upright.height; ++y) {
        for (int x = 0; x < upright.width; ++x) {
            const auto [from_x, from_y] =
                origin(exif_orientation, pixels.width, pixels.height, x, y);
            const auto* from = pixels.rgb.data() + offset(pixels.width, from_x, from_y);
            std::copy_n(from, 3, upright.rgb.data() + offset(upright.width, x, y));
        }
    }
    return upright;
}

Pixels shrunk(Pixels pixels, int longest_side) {
    const int longest = std::max(pixels.width, pixels.height);
    if (longest <= longest_side) return pixels;
    const double factor = static_cast<double>(longest_side) / longest;
    Pixels small;
    small.width = std::max(1, static_cast<int>(std::lround(pixels.width * factor)));
    small.height = std::max(1, static_cast<int>(std::lround(pixels.height * factor)));
    small.rgb.resize(offset(small.width, 0, small.height));
    stbir_resize_uint8(pixels.rgb.data(), pixels.width, pixels.height, 0, small.rgb.data(),
                       small.width, small.height, 0, 3);
    return small;
}

}  // namespace wm::photo
