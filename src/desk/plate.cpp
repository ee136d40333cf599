#include "desk/plate.hpp"

#include <algorithm>

#include "checklist/words.hpp"
#include "desk/view_parts.hpp"

namespace wm::desk {

namespace {

/// As it is compared: a number of a package is filled up with zeros on some plates and not on others.
std::string compared(std::string_view article) {
    std::string plain = checklist::lower_case(checklist::trimmed(article));
    const bool is_number = plain.find_first_not_of("0123456789") == std::string::npos;
    if (is_number) plain.erase(0, std::min(plain.find_first_not_of('0'), plain.size()));
    return plain;
}

}  // namespace

bool is_wanted_article(const std::vector<std::string>& wanted, std::string_view article) {
    return wanted.empty() || std::any_of(wanted.begin(), wanted.end(), [&](const auto& each) { return compared(each) == compared(article); });
}

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
