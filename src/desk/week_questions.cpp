#include "desk/week_questions.hpp"

#include <fmt/format.h>

namespace wm::desk {

namespace {

std::string jobs_in_words(const WeekQuestionView& question) {
    return question.jobs.size() == 1 ? question.jobs.front() : fmt::format("{} jobs", question.jobs.size());
}

/// From the last full stop that another sentence follows.
std::string last_sentence(const std::string& text) {
    const auto stop = text.rfind(". ");
    return stop == std::string::npos ? text : text.substr(stop + 2);
}

// Of a device people know the first signs of its number.
std::string device(const WeekQuestionView& question) { return question.subject.substr(0, 8); }

}  // namespace

bool is_about_frost(const WeekQuestionView& question) { return question.kind == "neighbours differ" || question.kind == "complaint and survey"; }

std::string in_short(const WeekQuestionView& question, const std::string& title) {
    const auto& who = question.subject;
    const auto jobs = jobs_in_words(question);
    if (question.kind == "neighbours differ") {
        // What bursts is told in the last sentence of the question, where there is any.
        const auto bursts = last_sentence(question.sentence);
        return fmt::format("Settle the frost class of {} before the first frost: neighbours were surveyed differently.{}", who,
                           bursts.find("direct system") == std::string::npos ? "" : " " + bursts);
    }
    if (question.kind == "complaint and survey")
        return fmt::format("Survey {} again for frost: {} called after frost, surveyed for less than the neighbours.", who, jobs);
    if (question.kind == "equal readings") return fmt::format("Ask {} how \"{}\" was read: one and the same figure at every place in {}.", who, title, jobs);
    if (question.kind == "pace") return fmt::format("Ask {} whether readings were noted on paper first: 1 to 3 s apart in {}.", who, jobs);
    if (question.kind == "one photo twice") return fmt::format("Ask {} which home a photo of \"{}\" shows: it stands in {}.", who, title, jobs);
    if (question.kind == "came back")
        return fmt::format("Ask {} about {}: \"{}\" did not conform at a later visit.", who, question.jobs.empty() ? "a job" : question.jobs.back(), title);
    if (question.kind == "clock") return fmt::format("Ask who set the time of device {}: it was moved or given by hand.", device(question));
    if (question.kind == "device") return fmt::format("Settle whether device {} is ours: it wrote into {}.", device(question), jobs);
    if (question.kind == "loss") return fmt::format("Ask the crew of device {} which readings are missing.", device(question));
    auto first = question.sentence.substr(0, question.sentence.find(". "));
    if (first.ends_with('.')) first.pop_back();
    return fmt::format("Ask {}: {}.", who, first);
}

}  // namespace wm::desk
