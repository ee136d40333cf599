// The changes of a journal's tables, one after the other, each told by the version that it leads to.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

namespace wm::store {

/// From the version before to `version`. A step makes tables and indexes and fills them: an altered table would no longer
/// be what altered_tables() reads out of the statements. It never opens or ends a transaction, for all steps run in one.
struct Step {
    std::int64_t version = 0;
    std::string_view statements;
};

/// By version, from 1 on, without gaps.
using Steps = std::span<const Step>;

/// Those of this program. What was released in a step is never changed again: a change is a next step.
[[nodiscard]] Steps own_steps();

}  // namespace wm::store
