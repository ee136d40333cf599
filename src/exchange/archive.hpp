// A plain tar in memory: named parts in, bytes out, and back. For the sources of this room.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "problem/result.hpp"

namespace wm::exchange {

struct Part {
    std::string name;
    std::string bytes;
};

/// The same parts give the same bytes: no times, no owners.
[[nodiscard]] Result<std::string> packed(const std::vector<Part>& parts);

/// The parts of an uncompressed tar of plain files. Any other kind of archive or member, and a
/// name that stands twice, is refused. `where` names it for the message.
[[nodiscard]] Result<std::vector<Part>> unpacked(std::string_view bytes, std::string_view where);

}  // namespace wm::exchange
