// A job that another began: take it over, or only look.
#pragma once

#include <string>

#include "screens/touch.hpp"
#include "screens/world.hpp"

namespace wm::screens {

/// In place of the screen while the open job is with another and it was not said that it is only looked
/// at. False where there is nothing to ask, and nothing was drawn.
[[nodiscard]] bool take_over_sheet(Touch& touch, const Rect& at, const World& world, std::string& only_looked_at,
                                   Requests& requests);

/// Over a job of another that is only looked at: whose it is, and the way to take it over.
void only_looked_at_strip(Touch& touch, const Rect& at, const World& world, std::string& only_looked_at);

}  // namespace wm::screens
