// A changed checklist over all past readings, before it is published: what would have come out otherwise.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "checklist/document.hpp"
#include "desk/desk.hpp"
#include "desk/past_readings.hpp"
#include "desk/workshop_view.hpp"

namespace wm::desk {

/// Ids of the checks of `after` that judge otherwise than in `before`, or are new: what is only worded
/// otherwise (title, question, sources) is no change, another setting of the list changes all.
[[nodiscard]] std::vector<std::string> changed_checks(const checklist::Item& before, const checklist::Item& after);

/// Readings of checks that did not change are counted, not judged. Each reading is judged with the
/// facts of its job and as of its own day; cautions and instrument types are those the job pins.
/// Nothing is written. Refuses a text that is no checklist; `name` stands in the message.
[[nodiscard]] Result<ReplayView> replay(Desk& desk, const std::string& text, std::string_view name);
/// The same over readings that were looked up before, of the same desk.
[[nodiscard]] Result<ReplayView> replay(Desk& desk, audit::PastReadings& past, const std::string& text, std::string_view name);

}  // namespace wm::desk
