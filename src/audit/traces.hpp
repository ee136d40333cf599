// What a job's readings tell beyond their outcome: how fast, how alike, by which gauge.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "audit/results.hpp"
#include "record/state.hpp"

namespace wm::audit {

/// Readings that stand, in the order of their entries. Pace by the time of each reading, in whole
/// seconds: several places entered at once have one time and are not hasty.
[[nodiscard]] JobTrace trace_of(const record::JobState& job, std::size_t index);

/// Pressures behind the limiting valve, in kPa; what did not conform (a valve set
/// wrong), what was read after a correction, and what is no pressure are left out.
[[nodiscard]] std::vector<GaugeReading> gauge_readings(const record::JobState& job, std::size_t index);

/// Readings that stand at their place and name an instrument.
[[nodiscard]] std::vector<InstrumentUse> uses_of(const record::JobState& job, std::size_t index);

/// Every deferral that was not undone.
[[nodiscard]] std::vector<DeferralRow> deferrals_of(const record::JobState& job, std::size_t index);

/// The local day a reading was taken: its own time, which carries the zone.
[[nodiscard]] std::string day_of(const record::Reading& reading);

}  // namespace wm::audit
