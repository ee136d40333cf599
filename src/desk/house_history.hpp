// All that was ever done at a house, on one page for whoever lives there next: nothing of or about a person is in it.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "desk/desk.hpp"

namespace wm::desk {

struct HouseVisitView {
    std::string job, kind, day, state;
    std::string checklist;            ///< name and version
    int conforming = 0;               ///< checks that stand as right
    std::vector<std::string> put_right;  ///< titles of checks that failed first
    std::vector<std::string> not_right;  ///< "Title: does not conform", put off and accepted ones too
    std::vector<std::string> reports;    ///< SHA-256 of each report, the first one first
};

struct HouseCallView {
    std::string complaint, day, symptom, air;
    std::string cause, check, closed;  ///< empty while it is open; cause empty also where it was none of the list
};

struct HouseHistoryView {
    std::string job, place;
    std::vector<std::pair<std::string, std::string>> fitted;  ///< what it is in words, and its value
    std::vector<HouseVisitView> visits;  ///< oldest first; practice is left out
    std::vector<HouseCallView> calls;    ///< oldest first
};

/// Of any job of the house. It is the same before and after the customer was erased.
[[nodiscard]] Result<HouseHistoryView> house_history(Desk& desk, const std::string& job);

/// The same as a PDF.
[[nodiscard]] Result<std::string> house_page(Desk& desk, const HouseHistoryView& history);

}  // namespace wm::desk
