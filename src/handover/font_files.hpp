// Where the typefaces of the pages lie.
#pragma once

#include <string>

namespace wm::handover {

/// DejaVu Sans, its Bold and DejaVu Sans Mono; subsets of them are embedded.
struct FontFiles {
    std::string regular = "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf";
    std::string bold = "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf";
    std::string mono = "/usr/share/fonts/truetype/dejavu/DejaVuSansMono.ttf";
};

/// The three in one folder, by the names they have in Debian.
[[nodiscard]] inline FontFiles fonts_in(const std::string& folder) {
    return {folder + "/DejaVuSans.ttf", folder + "/DejaVuSans-Bold.ttf", folder + "/DejaVuSansMono.ttf"};
}

}  // namespace wm::handover
