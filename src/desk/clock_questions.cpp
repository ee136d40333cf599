#include "desk/clock_questions.hpp"

#include <fmt/format.h>

namespace wm::desk {

Result<std::vector<WeekQuestionView>> clock_questions(Desk& desk, const std::string& first_day, const std::string& last_day) {
    const auto stream = desk.journal().read_stream();
    if (!stream) return tl::unexpected(stream.error());
    std::vector<WeekQuestionView> questions;
    for (const auto& [entry, hash] : stream->entries) {
        const auto* jump = std::get_if<record::ClockJumped>(&entry.body);
        const std::string day = entry.time.substr(0, 10);
        if (jump == nullptr || day < first_day || day > last_day) continue;
        WeekQuestionView question{.kind = "clock", .subject = entry.device, .check = "",
                                  .sentence = fmt::format("The clock of device {} was moved from {} to {} ({}).", entry.device,
                                                          jump->from, jump->to, jump->seen),
                                  .what_to_do = "Ask who set it and why. Series timed across that moment are no evidence of their "
                                                "duration.",
                                  .jobs = {}};
        const auto jobs = desk.journal().jobs();
        if (!jobs) return tl::unexpected(jobs.error());
        for (const auto& line : *jobs)
            if (line.first_time <= entry.time && line.last_time >= entry.time) question.jobs.push_back(line.job);
        questions.push_back(std::move(question));
    }
    return questions;
}

}  // namespace wm::desk
