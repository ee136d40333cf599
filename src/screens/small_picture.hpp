// Pictures in a list: small enough to be told apart at arm's length, and no larger.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <vector>

namespace wm::screens {

/// Longest side in pixels: some 25 mm on a usual tablet, more than a row shows.
inline constexpr int small_picture_side = 224;

/// Rows from the top, three bytes (red, green, blue) a pixel, without padding. Without a size it is a file that
/// is no picture.
struct SmallPicture {
    int width = 0;
    int height = 0;
    std::vector<std::uint8_t> rgb;
};
using SharedPicture = std::shared_ptr<const SmallPicture>;

/// What ImGui draws a picture by; 0 where there is no glass to draw on. Asked by the thread of the window only.
using TextureOf = std::function<std::uint64_t(const SharedPicture&)>;

}  // namespace wm::screens
