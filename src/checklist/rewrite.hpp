// One value of a checklist's text set otherwise, all else left byte by byte as it was written.
#pragma once

#include <string>
#include <string_view>

#include "problem/result.hpp"

namespace wm::checklist {

/// Which value: a key of a check's own table (not of its parts, examples and the like).
struct ValueAt {
    std::string check;  ///< id; empty for the table [checklist]
    std::string key;
};

/// A text as a TOML basic string, quotes and control signs escaped.
[[nodiscard]] std::string quoted(std::string_view text);

/// The text with `value` (as TOML spells it) at that place; a key that is not there is put below the id, in
/// [checklist] below the name. Refuses a text that is no TOML, a check that is not in it, and a value after which
/// the text would be none or would say something else elsewhere.
[[nodiscard]] Result<std::string> with_value(std::string_view text, std::string_view file_name, const ValueAt& at, std::string_view value);

/// The lines of a check, from its [[check]] to before the next table that is not its own, found by the lines alone, so
/// also in a text that is no TOML just now; empty if it is not there.
[[nodiscard]] std::string_view lines_of_check(std::string_view text, std::string_view check);

}  // namespace wm::checklist
