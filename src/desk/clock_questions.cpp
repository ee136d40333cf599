#include "desk/clock_questions.hpp"

#include <fmt/format.h>

namespace wm::desk {

namespace {

/// A device that never read a clock is a trial or a story, which its jobs say; one that stops reading it is asked about.
bool begins_by_hand(const record::Entry& entry) {
    const auto* told = std::get_if<record::TimeSourceChanged>(&entry.body);
    constexpr std::int64_t after_the_start = 2;
    return told != nullptr && record::time_source_of(*told) == record::TimeSource::Hand && entry.seq > after_the_start;
}

std::optional<WeekQuestionView> question_about(const record::Entry& entry) {
    WeekQuestionView question{.kind = "clock", .subject = entry.device, .check = "", .sentence = {}, .what_to_do = {}, .jobs = {}};
    if (const auto* jump = std::get_if<record::ClockJumped>(&entry.body)) {
        question.sentence = fmt::format("The clock of device {} was moved from {} to {} ({}).", entry.device, jump->from, jump->to, jump->seen);
        question.what_to_do = "Ask who set it and why. Series timed across that moment are no evidence of their duration.";
        return question;
    }
    if (!begins_by_hand(entry)) return std::nullopt;
    question.sentence = fmt::format("Device {} had its times given by hand from {} on, although it has a clock.", entry.device,
                                    entry.time.substr(0, 19) + "Z");
    question.what_to_do = "Ask who gave them and why. What stands under these times is no evidence of when it was done.";
    return question;
}

}  // namespace

Result<std::vector<WeekQuestionView>> clock_questions(const std::vector<record::Written>& stream, const JobLines& lines,
                                                      const std::string& first_day, const std::string& last_day) {
    std::vector<WeekQuestionView> questions;
    for (const auto& [entry, hash] : stream) {
        const std::string day = entry.time.substr(0, 10);
        if (day < first_day || day > last_day) continue;
        auto asked = question_about(entry);
        if (!asked) continue;
        WeekQuestionView& question = *asked;
        const auto jobs = lines();
        if (!jobs) return tl::unexpected(jobs.error());
        for (const auto& line : *jobs)
            if (line.first_time <= entry.time && line.last_time >= entry.time) question.jobs.push_back(line.job);
        questions.push_back(std::move(question));
    }
    return questions;
}

Result<std::vector<WeekQuestionView>> clock_questions(Desk& desk, const std::string& first_day, const std::string& last_day) {
    const auto stream = desk.journal().read_stream();
    if (!stream) return tl::unexpected(stream.error());
    return clock_questions(stream->entries, [&] { return desk.journal().jobs(); }, first_day, last_day);
}

}  // namespace wm::desk
