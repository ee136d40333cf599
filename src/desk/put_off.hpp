// What was put off at the handover: it may still be read, and a supplement to the report closes it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "desk/in_hand.hpp"
#include "record/state.hpp"

namespace wm::desk {

/// The first handover of the job as it stands; nullptr before it.
[[nodiscard]] const record::HandoverState* first_handover(const record::JobState& state);

/// Whether the check was deferred when the job was handed over, whatever became of it since.
[[nodiscard]] bool was_put_off(const record::JobState& state, std::string_view check);

/// Whether readings, deferrals or concessions came in since the last handover: a supplement is due.
[[nodiscard]] bool has_news(const record::JobState& state);

/// Ids of checks with a reading, a deferral or a concession since the first handover.
[[nodiscard]] std::vector<std::string> done_since(const record::JobState& state);

/// One check that waits for its day.
struct DueCheck {
    std::string check, until, owner, why;
};

/// Deferrals still standing, the earliest first.
[[nodiscard]] std::vector<DueCheck> due_checks(const record::JobState& state);

/// still_open(), but after a handover what was put off may be read, corrected and deferred again.
[[nodiscard]] Result<void> open_for(const JobInHand& job, std::string_view check);

}  // namespace wm::desk
