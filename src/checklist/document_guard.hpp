// What must not reach the TOML library, found before it is asked.
//
// The library (3.3) is sound on sound texts. On some others it recurses once for each point of a
// line, or asks of a letter beyond ASCII whether it is a blank, which its generated tables answer
// with undefined behaviour. No sound checklist needs either, so such a text is refused here.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "checklist/position.hpp"

namespace wm::checklist {

struct StumblingBlock {
    Position at;
    std::string what;
    std::string what_to_do;
};

/// The first of: a letter beyond ASCII outside quotes and comments (a byte order mark at the start
/// is none), such a letter first after a line that ends in a backslash, a quote in the middle of a
/// value, more than 100 points in one line outside quotes, more than 60,000 values and tables (each
/// costs some 200 bytes; the largest file shipped has fewer than 6,000 marks of them). Strings and comments are told apart as
/// TOML 1.0 does.
[[nodiscard]] std::optional<StumblingBlock> stumbling_block(std::string_view text);

}  // namespace wm::checklist
