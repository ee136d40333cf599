// What a look worked out anew is kept beside the journal, so that the next command need not fold all jobs again.
#pragma once

#include "app/world.hpp"
#include "desk/past_readings.hpp"

namespace wm::app {

/// For as long as the writing takes, and only if nobody else writes now: a look waits for nobody. What cannot be kept is
/// made again the next time, so nobody is told.
void keep_columns_of(const World& world, desk::Desk& looked);
void keep_past_of(const World& world, const desk::PastLook& looked);

}  // namespace wm::app
