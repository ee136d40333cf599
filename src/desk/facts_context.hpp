// Working expressions out over the facts of a job alone: nothing has been read yet.
#pragma once

#include "checklist/judge.hpp"
#include "desk/in_hand.hpp"

namespace wm::desk {

/// Points into `hand`, which has to outlive it.
[[nodiscard]] inline checklist::Context facts_context(const JobInHand& hand) {
    return {.facts = hand.facts(),
            .library = *hand.library,
            .today = hand.today,
            .outcome_of = [](const checklist::CheckId&) { return std::nullopt; },
            .answer_of = [](const checklist::CheckId&) { return std::nullopt; },
            .value_of = [](const checklist::CheckId&) { return std::nullopt; },
            .earlier_value_of = [](const checklist::CheckId&) { return std::nullopt; }};
}

}  // namespace wm::desk
