// The square code beside a part on the sheet: which part of which job it is.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "problem/result.hpp"

namespace wm::desk {

struct CodedPart {
    std::string job, part;
    friend bool operator==(const CodedPart&, const CodedPart&) = default;
};

/// "WM-PART J-1A2B-0003 pipe-loop": blanks stand in no job number and no id.
[[nodiscard]] std::string part_code(const CodedPart& part);
[[nodiscard]] std::optional<CodedPart> part_in_code(std::string_view text);

/// The part whose code stands in the picture (JPEG or PNG): the only one, or the one on the middle of the picture. Unreadable:
/// none, several and none on the middle, or a code of something else.
[[nodiscard]] Result<CodedPart> part_in_picture(std::string_view picture, std::string_view name);

}  // namespace wm::desk
