// From an instrument or a batch of parts to what stands on it: checks, houses, letters, visits, the doubt on record.
#pragma once

#include <optional>
#include <string>

#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

/// What is asked, and what is half written. Shown while `is_open`.
struct TraceDraft {
    bool is_open = false;
    AskTrace asked;
    std::string letter_of;  ///< job whose letter is shown
    std::string why, as_found;
};

/// Gives a job a person wants to look at; a person first chooses the instrument or batch.
[[nodiscard]] std::optional<std::string> trace_sheet(Touch& touch, const Rect& at, const World& world, TraceDraft& draft,
                                                     Requests& requests);

/// The sheet for one instrument or batch, and the question for it.
void open_trace(TraceDraft& draft, AskTrace asked, Requests& requests);

}  // namespace wm::screens
