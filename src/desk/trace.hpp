// From an instrument or a batch of parts back to readings, houses, letters and visits.
#pragma once

#include <string>

#include "desk/desk.hpp"

namespace wm::desk {

/// One of the two is named. Days are for an instrument: from the first one in doubt, until the last
/// one or, where that is empty, until it was calibrated again.
struct TraceAsked {
    std::string instrument, from, until;
    std::string batch;
};

/// Who signs the letters.
struct TraceSender {
    std::string company, contact;
};

/// Every reading that stands on it, the jobs and customers concerned with a letter drafted to each, and
/// which houses have a later visit. Nothing is written. Refused for a name nobody used.
[[nodiscard]] Result<TraceView> trace_view(Desk& desk, const TraceAsked& asked);

/// The same from columns and rows of the job list at hand, without what is on record of doubts.
[[nodiscard]] Result<TraceView> traced(const audit::Columns& columns, const audit::CheckCards& cards,
                                       const std::vector<JobRow>& listed, const TraceSender& sender, const TraceAsked& asked);

}  // namespace wm::desk
