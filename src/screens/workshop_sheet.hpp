// The lead's workshop: a checklist changed by form or text, with its faults, its differences and the past beside it.
#pragma once

#include <map>
#include <string>

#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

/// What stands beside the form.
enum class WorkshopPage { Form, Checks, Lines, Seen, Changes, Past };

/// What is half typed on the bench. Shown while `list` names one.
struct WorkshopDraft {
    std::string list;
    WorkshopPage page = WorkshopPage::Lines;
    std::string search;
    std::string why;  ///< of the publication
    std::string why_sent{};   ///< on its way to the desk: comes back if it is refused
    int why_sent_after = 0;   ///< World::answered as of then
    int why_sent_at = 0;      ///< version that was published then
    int looks = -1;   ///< World::list_draft_looks as of the last frame
    std::string check;
    std::map<std::string, std::string> typed, stood;  ///< by key of the form: as typed, and as the text had it then
    std::string lines, lines_stood;
    bool past_asked = false;   ///< and not answered with a replay yet
    bool look_for_it = false;  ///< the check at hand is brought into sight in the list
    bool sure_anew = false;  ///< "Start anew" was pressed once
};

/// Takes a list to the bench.
[[nodiscard]] WorkshopDraft workshop_for(const std::string& list, Requests& requests);

/// Leaving it clears `draft`. What was typed is sent before anything else is asked for.
void workshop_sheet(Touch& touch, const Rect& at, const World& world, WorkshopDraft& draft, Requests& requests);

}  // namespace wm::screens
