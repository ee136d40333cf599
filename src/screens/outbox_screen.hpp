// The outbox: each message, how it stands, and what can be done.
#pragma once

#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

void outbox_screen(Touch& touch, const Rect& at, const World& world, Requests& requests);

}  // namespace wm::screens
