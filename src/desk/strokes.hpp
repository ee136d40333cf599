// Drawn signatures as SVG and back.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "desk/intent.hpp"
#include "problem/result.hpp"

namespace wm::desk {

/// One polyline per stroke in millimetres; the times of its points stand in data-ms.
[[nodiscard]] std::string strokes_to_svg(const std::vector<Stroke>& strokes);

/// Reads polyline points and the M and L commands of paths, absolute; anything else in the file is
/// passed over, points beyond ten metres with it. Refuses a file that holds no stroke, or more than 20,000 points.
[[nodiscard]] Result<std::vector<Stroke>> strokes_of_svg(std::string_view svg, std::string_view file_name);

}  // namespace wm::desk
