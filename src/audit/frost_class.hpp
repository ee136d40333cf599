// How much frost a home was taken for.
#pragma once

#include <string_view>

namespace wm::audit {

/// Higher is less cautious: 2 for "none", 1 for "occasional", 0 for any other word.
[[nodiscard]] inline int boldness(std::string_view frost_class) {
    if (frost_class == "none") return 2;
    return frost_class == "occasional" ? 1 : 0;
}

}  // namespace wm::audit
