// What the tool works out for a check before anything is read: how long the test must run with this
// gauge, what a clear sky gives now, what the loop should show, where true north lies.
#pragma once

#include <string>
#include <vector>

#include "desk/in_hand.hpp"
#include "desk/moment.hpp"

namespace wm::desk {

/// Whole sentences with their figures, in the order in which the check names them (`works_out` of
/// the checklist). None where facts are missing or the sun is down: they advise and never judge.
[[nodiscard]] std::vector<std::string> beforehand(Assessment& assessment, const checklist::Check& check, Moment now);

}  // namespace wm::desk
