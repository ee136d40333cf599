// What text may enter the journal: valid UTF-8 in composed form.
#pragma once

#include <string>
#include <string_view>

namespace wm::digest {

/// Valid UTF-8: no overlong form, no surrogate, nothing above U+10FFFF.
[[nodiscard]] bool is_utf8(std::string_view text);

/// The UTF-8 of a code point, added at the end.
void append_utf8(std::string& text, char32_t point);

/// False when a base letter stands before a combining mark with which it has a common spelling.
/// Covers letters below U+0500 and U+1E00 to
/// U+1FFF (Latin, Greek, Cyrillic) and signs such as the ohm sign, which is an omega; other scripts
/// are kept as entered.
[[nodiscard]] bool is_composed(std::string_view utf8);

/// The text with every such pair replaced by the one letter. For intake, before anything is
/// hashed. Text that is not UTF-8 is returned as it came.
[[nodiscard]] std::string composed(std::string_view text);

}  // namespace wm::digest
