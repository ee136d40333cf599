// What is likely behind a complaint, weighed by the record of the house. Weights and their sources are content
// (failures.toml); nothing is learnt behind anyone's back.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "checklist/failure_list.hpp"
#include "desk/complaint_view.hpp"
#include "desk/house_jobs.hpp"

namespace wm::desk {

/// What is known beside the record of the checks.
struct ComplaintSigns {
    std::string symptom;
    std::optional<double> air_c{};  ///< outside, as told
    int month = 0;                ///< in which it began, 1 to 12; 0 = unknown
    bool southern = false;        ///< south of the equator
    bool taken_for_frost_free = false;  ///< the house was surveyed so
    /// How many complaints with this symptom came down to each failure before.
    std::map<std::string, int, std::less<>> closed_before{};
};

/// Whether the house can have the failure at all; unknown facts rule nothing out.
using CanHave = std::function<bool(const checklist::FailureMode&)>;

/// Every failure with the symptom that the house can have, likeliest first. Its weight is how often the list and our own closed
/// complaints know it, times the factor of its check that speaks most against the house, times that of one that conforms, times weather or season; the
/// share is its part of the sum. `library` words the sources.
[[nodiscard]] std::vector<LikelyCauseView> likely_causes(const checklist::FailureList& list, const checklist::Library& library,
                                                         const HouseRecord& record, const ComplaintSigns& signs, const CanHave& can_have);

/// The checks of all causes, each once: those of likelier causes first.
[[nodiscard]] std::vector<CatchView> checks_to_repeat(const std::vector<LikelyCauseView>& causes);

}  // namespace wm::desk
