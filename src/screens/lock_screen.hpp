// The lock screen: who is there, and the PIN. Nothing of any customer stands on it.
#pragma once

#include "screens/lock.hpp"
#include "screens/touch.hpp"

namespace wm::screens {

/// Over the whole window. Running series go on counting down on it.
void lock_screen(Touch& touch, const Rect& display, const World& world, const std::vector<SeriesRun>& series, LockDraft& draft,
                 Requests& requests);

}  // namespace wm::screens
