#include "desk/lost_entries.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace wm::desk {

namespace {

std::string what_is_missing(const record::EntriesLost& lost) {
    const auto count = lost.to - lost.from + 1;
    return count == 1 ? fmt::format("One entry that was saved ({} of device {}) is missing", lost.to, lost.device.substr(0, 8))
                      : fmt::format("{} entries that were saved ({} to {} of device {}) are missing", count, lost.from, lost.to, lost.device.substr(0, 8));
}

}  // namespace

Problem words_on_loss(const Desk& desk, const record::EntriesLost& lost) {
    return {what_is_missing(lost) + ": the end of the journal's log is damaged, or the journal was put back from an older copy.",
            (desk.setup().data / "journal.db").string(),
            "Look through the last readings and enter again what is not there. What was left of the log lies in set-aside. Have the disk looked at; "
            "a bundle or a backup made since may still hold them.",
            ProblemKind::Unreadable};
}

std::vector<WeekQuestionView> loss_questions(const std::vector<record::Written>& stream, const std::vector<record::Head>& heads,
                                             const std::string& first_day, const std::string& last_day) {
    std::vector<WeekQuestionView> questions;
    for (const auto& [entry, hash] : stream) {
        const auto* lost = std::get_if<record::EntriesLost>(&entry.body);
        const std::string day = entry.time.substr(0, 10);
        if (lost == nullptr || day < first_day || day > last_day) continue;
        if (std::any_of(heads.begin(), heads.end(), [&](const auto& head) { return head.device == lost->device && head.seq >= lost->to; })) continue;
        questions.push_back({.kind = "loss", .subject = lost->device, .check = "", .sentence = what_is_missing(*lost) + " since that device was started that day.",
                             .what_to_do = "Ask its crew which readings are not there, and whether they were taken again. Have its disk looked at.", .jobs = {}});
    }
    return questions;
}

}  // namespace wm::desk
