// Mail addresses and header texts that can carry nothing but themselves.
#pragma once

#include <string>
#include <string_view>

#include "problem/result.hpp"

namespace wm::post {

/// One mailbox without a display name: one @, something on both sides, no blank, control
/// character, comma, angle bracket or quote, at most 254 bytes. `where` names the place.
[[nodiscard]] Result<std::string> read_address(std::string_view text, std::string_view where);

/// A text for a header line: line ends and other control characters become blanks, runs of blanks
/// one blank. Nothing a person typed can so begin a header of its own.
[[nodiscard]] std::string header_text(std::string_view text);

/// A name for an attached file: letters, digits, point, dash and underscore of ASCII stay, all
/// else becomes a dash. Never empty.
[[nodiscard]] std::string file_name(std::string_view text);

}  // namespace wm::post
