// The sheet that stays by the heater, from what is on record of one job.
#pragma once

#include <string>

#include "desk/desk.hpp"
#include "handover/leaflet.hpp"
#include "problem/result.hpp"

namespace wm::desk {

/// From the facts and the readings that count: what did not conform, or was never read, is no setting of this set. A draft
/// while something stands against the handover. Refused for a job whose list does not show the household anything.
[[nodiscard]] Result<handover::Leaflet> leaflet_of(Desk& desk, const std::string& job);

/// The same from a job in hand and the view of the same job; what the desk knows of the company is left empty.
[[nodiscard]] handover::Leaflet leaflet_of(const JobInHand& job, const JobView& view);

}  // namespace wm::desk
