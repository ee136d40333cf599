#include "desk/plate.hpp"

#include <algorithm>

#include "desk/view_parts.hpp"

namespace wm::desk {

Result<std::vector<std::string>> same_serial_elsewhere(Desk& desk, const Plate& plate) {
    const auto states = desk.all_states();
    if (!states) return tl::unexpected(states.error());
    const auto own = std::find_if(states->begin(), states->end(), [&](const auto& state) { return state.number == plate.job; });
    std::vector<std::string> jobs;
    for (const auto& state : *states) {
        if (!state.opened || state.opened->practice || state.number == plate.job) continue;
        if (own != states->end() && own->opened && state.opened->customer == own->opened->customer) continue;
        if (fact_text(state, plate.fact) == plate.serial) jobs.push_back(state.number);
    }
    std::sort(jobs.begin(), jobs.end());
    return jobs;
}

}  // namespace wm::desk
