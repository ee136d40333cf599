// A corrective action being decided: cause, remedy, owner and day, for one finding of the week.
#pragma once

#include "desk/intent.hpp"
#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

/// What is half decided, and for which finding. Shown while `is_open`.
struct ActionDraft {
    bool is_open = false;
    std::string sentence;  ///< of the finding
    desk::DecideAction intent;
};

/// An empty sheet for that finding of the week.
[[nodiscard]] ActionDraft action_for(const desk::FindingView& finding, const std::string& week);

/// Asks for the intent once all is there; both deeds close the sheet.
void action_sheet(Touch& touch, const Rect& at, const World& world, ActionDraft& draft, Requests& requests);

/// One corrective action in a row, with the next thing to do about it as a key.
void action_row(Touch& touch, ScrollArea& area, const desk::ActionView& action, Requests& requests);

}  // namespace wm::screens
