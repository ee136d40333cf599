// What the handover report prints of a job.
#pragma once

#include <map>

#include "desk/in_hand.hpp"
#include "desk/view.hpp"
#include "handover/report_input.hpp"

namespace wm::desk {

/// Things the job itself does not hold.
struct ReportSurroundings {
    std::string company, contact, fingerprint, fingerprint_published;
    std::string date;                 ///< of the handover
    handover::Moment written;
    std::vector<record::Head> heads;  ///< of all chains, before the handover entry
    /// Attachments by id: photos as JPEG, signatures as SVG.
    std::map<std::string, std::string> files;
    language::Language language = {};  ///< of the customer
    int zone_minutes = 0;  ///< of the place, for times that stand as stamps in the record
};

/// Everything but the square code. `view` is the view of the same job.
[[nodiscard]] handover::ReportInput report_input(const JobInHand& job, const JobView& view,
                                                 const ReportSurroundings& surroundings);

}  // namespace wm::desk
