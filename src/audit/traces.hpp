// What a job's readings tell beyond their outcome: how fast, how alike, by which gauge.
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include "audit/results.hpp"
#include "record/state.hpp"

namespace wm::audit {

/// Readings that stand, in the order of their entries. Pace by the time of each reading, in whole
/// seconds: several places entered at once have one time and are not hasty.
[[nodiscard]] JobTrace trace_of(const record::JobState& job, std::size_t index);

/// How long each check took for one reading: from the reading before its first go to the last reading
/// of that go, as read, in seconds, shared out over the readings of the go: ten anchors take ten times
/// as long as one without being slow. Left out: the first check of a job, what was corrected or came back to, what was
/// entered at once with the reading before, and what lies on two days or in two zones.
[[nodiscard]] std::map<std::string, int> seconds_of_checks(const record::JobState& job);

/// Pressures behind the limiting valve, in kPa; what did not conform (a valve set
/// wrong), what was read after a correction, and what is no pressure are left out.
[[nodiscard]] std::vector<GaugeReading> gauge_readings(const record::JobState& job, std::size_t index);

/// Readings that stand at their place and name an instrument.
[[nodiscard]] std::vector<InstrumentUse> uses_of(const record::JobState& job, std::size_t index);

/// Every deferral that was not undone.
[[nodiscard]] std::vector<DeferralRow> deferrals_of(const record::JobState& job, std::size_t index);

/// Every complaint that was not taken back.
[[nodiscard]] std::vector<ComplaintRow> complaints_of(const record::JobState& job, std::size_t index);

/// The local day a reading was taken: its own time, which carries the zone.
[[nodiscard]] std::string day_of(const record::Reading& reading);

}  // namespace wm::audit
