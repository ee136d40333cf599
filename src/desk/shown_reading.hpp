// A reading that came straight from an instrument, and the bytes it came in.
//
// The evidence is a note on the check, written in one transaction with the reading and before it, so that an undo takes the
// reading back and what the instrument said stays. It is locked like every note, and goes with an erasure of the customer.
#pragma once

#include <string>
#include <vector>

#include "desk/in_hand.hpp"
#include "desk/intent.hpp"

namespace wm::desk {

struct TakeShownReading {
    TakeReading reading;   ///< its instrument is the one that said who it is, and must be registered for the job
    std::string evidence;  ///< what was asked and answered, byte for byte; never empty
    std::string done{};    ///< what was put right before, where this corrects a failure; else empty
};

struct EvidenceView {
    std::string check;
    std::string text;  ///< "(erased)" once the customer is
};
/// What instruments sent for a check, or for all of them where `check` is empty; the oldest first.
[[nodiscard]] std::vector<EvidenceView> evidence_in(const JobInHand& job, const std::string& check);

}  // namespace wm::desk
