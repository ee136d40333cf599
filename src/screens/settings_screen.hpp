// Settings, and the registers of the lead: company and keys, looks, sizes, PINs, instruments of the job, the keys of the keyboard.
#pragma once

#include "screens/access_screen.hpp"
#include "screens/register_screen.hpp"
#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

void settings_screen(Touch& touch, const Rect& at, const World& world, RegisterDraft& draft, AccessDraft& access,
                     Requests& requests);

}  // namespace wm::screens
