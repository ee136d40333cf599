// Every reading of the journal that still counts, kept between starts so that a changed list is judged without folding all jobs.
#pragma once

#include "audit/past_readings.hpp"
#include "desk/desk.hpp"

namespace wm::desk {

struct PastLook {
    audit::PastReadings readings;
    std::size_t made_anew = 0;  ///< jobs that were folded for it
};

/// Of all jobs that can be read. Only jobs that changed since they were last kept are folded.
[[nodiscard]] Result<PastLook> past_readings(Desk& desk);

/// Sees to it that the hashes of their entries are there.
[[nodiscard]] Result<void> with_entries(Desk& desk, audit::PastReadings& readings);

/// Keeps them, locked, for the next start. `writer` is of the same folder.
[[nodiscard]] Result<void> keep_past(store::Journal& writer, const audit::PastReadings& readings);

/// The readings of one job as they are kept; readings that were undone or set aside are left out.
[[nodiscard]] audit::PastJob past_job(const record::JobState& state);

/// An instrument in one text, and back.
[[nodiscard]] std::string card_text(const record::InstrumentRegistered& card);
[[nodiscard]] record::InstrumentRegistered card_of(std::string_view text);

}  // namespace wm::desk
