// A changed checklist over all past readings, before it is published: what would have come out otherwise.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "checklist/document.hpp"
#include "desk/desk.hpp"
#include "desk/past_readings.hpp"

namespace wm::desk {

/// One reading that the changed checklist would judge otherwise than it was judged.
struct FlipView {
    std::string job, check, place, entry;
    std::string was, would_be;  ///< outcomes in words
    std::string why;            ///< of the new outcome
};

struct ReplayView {
    std::string checklist;
    std::int64_t results = 0;           ///< readings that were taken and not undone or set aside
    std::int64_t judged_again = 0;      ///< of checks that the change touches
    std::vector<std::string> changed;   ///< ids of those checks
    std::vector<std::string> dropped;   ///< checks with readings that the new list no longer has
    std::vector<FlipView> flips;        ///< by job
    double share_before = 0.0, share_after = 0.0;  ///< of readings that do not conform
};

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
