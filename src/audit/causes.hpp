// The short list of causes that a corrective action names, so that causes can be counted.
#pragma once

#include <span>
#include <string_view>

namespace wm::audit {

/// A word that stands in the journal, and what it means to a reader. The words never change their
/// meaning; a new cause is a new word.
struct Cause {
    std::string_view word, meaning;
};

/// In the order in which they are offered.
[[nodiscard]] std::span<const Cause> causes();
/// nullptr where no cause has that word.
[[nodiscard]] const Cause* cause_named(std::string_view word);

}  // namespace wm::audit
