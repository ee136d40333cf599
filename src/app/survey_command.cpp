// `survey-report`: what the survey found, for the customer.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "desk/survey_report.hpp"
#include "handover/survey_words.hpp"

namespace wm::app {

namespace {

Json if_any(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json in_json(const std::vector<handover::SurveyFinding>& findings, const std::vector<handover::FoundAndCure>& words) {
    Json all = Json::array();
    for (std::size_t i = 0; i < findings.size(); ++i)
        all.push_back({{"check", findings[i].check_id}, {"title", findings[i].title}, {"found", words[i].found}, {"cure", words[i].cure}});
    return all;
}

Json as_json(const handover::SurveyReport& report, const handover::SurveyWords& words) {
    Json shade = Json::array();
    for (const auto& month : report.shade) shade.push_back({{"month", month.name}, {"share", month.share}});
    Json months = Json::array();
    for (const auto& month : report.expectation.months)
        months.push_back({{"month", month.name}, {"low_kwh", month.low_kwh}, {"high_kwh", month.high_kwh}, {"needed_kwh", month.needed_kwh}});
    return {{"job", report.job}, {"place", report.place}, {"verdict", handover::in_words(report.suited)}, {"signed_by", if_any(report.surveyor)},
            {"blocking", in_json(report.blocking, words.blocking)}, {"conditions", in_json(report.conditions, words.conditions)},
            {"sun_in_a_year", if_any(report.sun_band)}, {"needed_in_a_year", if_any(report.need_band)},
            {"of_best_plane", report.of_best_plane ? Json(*report.of_best_plane) : Json(nullptr)},
            {"shade_read", report.shade_read ? Json(*report.shade_read) : Json(nullptr)}, {"shade", shade}, {"months", months},
            {"left_out", report.expectation.left_out}};
}

std::string as_text(const handover::SurveyReport& report, const handover::SurveyWords& words) {
    std::string text = fmt::format("{}\n{}\n", report.place, words.headline);
    const auto add = [&](const std::vector<std::string>& sentences) {
        for (const auto& sentence : sentences) text += "  " + sentence + "\n";
    };
    add(words.verdict);
    for (const auto& [heading, items] : {std::pair{"In the way of a date", &words.blocking}, std::pair{"To be kept to", &words.conditions}}) {
        if (!items->empty()) text += fmt::format("{}\n", heading);
        for (const auto& item : *items) text += fmt::format("  {} {}\n", item.found, item.cure);
    }
    text += "The sun\n";
    add(words.sun);
    add(words.shade);
    text += "Next\n";
    add(words.next);
    return text;
}

}  // namespace

Output run_survey_report(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(1, "The job number");
    if (!job) return told_as(job.error(), form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const auto report = desk::survey_report(*desk, *job);
    if (!report) return told_as(report.error(), form);
    Output output;
    if (arguments.has("out")) {
        const auto paper = desk::survey_paper(*desk, *report);
        if (!paper) return told_as(paper.error(), form);
        if (const auto written = write_file(arguments.value("out"), paper->file); !written) return told_as(written.error(), form);
        output.talk = fmt::format("The report of the survey lies in {}{}.\n", arguments.value("out"),
                                  report->fingerprint.empty() ? ", not sealed" : "");
        if (!paper->unstamped.empty()) output.talk += fmt::format("Sealed without a time stamp: {}\n", paper->unstamped);
    }
    const auto words = handover::survey_words(*report);
    output.data = form == Form::Json ? document(as_json(*report, words)) : as_text(*report, words);
    return output;
}

}  // namespace wm::app
