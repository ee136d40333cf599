// Complaints: taken, held against the record of the house, turned into a visit, closed.
#pragma once

#include <string>
#include <vector>

#include "checklist/failure_list.hpp"
#include "desk/complaint_view.hpp"
#include "desk/desk.hpp"

namespace wm::desk {

/// The catalogue as it is published now.
[[nodiscard]] Result<checklist::FailureList> failure_list(Desk& desk);

/// The complaints of a house with their likely causes, and what a new one may be. Also while there is none.
[[nodiscard]] Result<ComplaintSheetView> complaint_sheet(Desk& desk, const std::string& job);

/// All complaints on record, without causes: open ones first, the oldest first, then closed ones, the newest first. Practice
/// is left out.
[[nodiscard]] Result<std::vector<ComplaintView>> complaint_list(Desk& desk);

/// What a visit is told: the complaint, its likely causes, the checks to repeat.
[[nodiscard]] std::string told_to_visit(const ComplaintView& complaint);

}  // namespace wm::desk
