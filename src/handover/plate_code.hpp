// The codes on the plate of a part: Code 128, Data Matrix and QR.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "problem/result.hpp"

namespace wm::handover {

struct PlateCode {
    std::string text;        ///< as it stands in the code; GS (0x1D) between elements
    bool is_marked = false;  ///< marked by the symbology as a GS1 element string (FNC1 in front)
};

/// All of them, each once, at least one, in a photo (JPEG or PNG). Unreadable: none that can be read.
[[nodiscard]] Result<std::vector<PlateCode>> read_plate_codes(std::string_view picture, std::string_view name);

}  // namespace wm::handover
