#include "desk/shown_reading.hpp"

#include "desk/desk.hpp"

namespace wm::desk {

Result<std::vector<Answer>> Desk::carry_out(const TakeShownReading& intent) {
    return record_reading(intent.reading, intent.done.empty() ? nullptr : &intent.done, &intent.evidence);
}

std::vector<EvidenceView> evidence_in(const JobInHand& job, const std::string& check) {
    std::vector<EvidenceView> all;
    for (const auto& [origin, note] : job.state().notes)
        if (!note.check.empty() && (check.empty() || note.check == check)) all.push_back({note.check, record::shown(note.text)});
    return all;
}

}  // namespace wm::desk
