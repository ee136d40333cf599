// What a number is likely to be before it is read: against slips that the tolerance alone does not see.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "checklist/judge.hpp"

namespace wm::desk {

/// Where a number is read, what is allowed there, and what was read at the check before.
struct ReadAt {
    const checklist::Checklist& list;
    const checklist::Check& check;
    std::string_view place;  ///< "", a place or the name of a part
    const checklist::Limits& limits;
    const std::vector<checklist::ReadingInput>& latest;
};

/// In the unit of the check or part: the middle one of its other places; what was read there when the house was
/// commissioned; the target; what a conforming example of the list shows, as far from its limit as there; else by the one
/// limit or the middle of what is plausible. nullopt where none of these is known. A guess for questions, never for a
/// judgement.
[[nodiscard]] std::optional<double> usual_reading(const ReadAt& at, const checklist::Context& context);

}  // namespace wm::desk
