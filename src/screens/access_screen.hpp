// Who has a PIN: giving one, changing it, taking it away, and after what time the window locks.
#pragma once

#include <string>

#include "screens/letter_board.hpp"
#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

/// Steps of a change; each PIN is typed on its own.
enum class AccessStep { People, Name, Role, OwnPin, NewPin, Again };

struct AccessDraft {
    bool shown = false;
    AccessStep step = AccessStep::People;
    bool takes_away = false;
    std::string name{}, role{};
    std::string own_pin{}, new_pin{}, again{};
    bool unequal = false;  ///< the new PIN was typed differently the second time
    int answers_seen = 0;
    BoardDraft board{};
};

void access_screen(Touch& touch, const Rect& at, const World& world, AccessDraft& draft, Requests& requests);

}  // namespace wm::screens
