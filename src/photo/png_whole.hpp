// Whether a PNG file is there to its last byte, before any decoder sees it.
#pragma once

#include <string_view>

namespace wm::photo {

/// True if all chunks follow each other with right checksums and the last is IEND at the end of
/// the bytes. Source: PNG specification (third edition), section 5.
[[nodiscard]] bool is_whole_png(std::string_view bytes);

/// True if the bytes begin as a PNG.
[[nodiscard]] bool begins_as_png(std::string_view bytes);

}  // namespace wm::photo
