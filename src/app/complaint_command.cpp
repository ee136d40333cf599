// `complaint`: what a customer calls about, what is likely behind it, and what became of it.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "desk/complaints.hpp"

namespace wm::app {

namespace {

Json if_any(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json in_json(const desk::CatchView& row) {
    return {{"check", row.check}, {"title", row.title}, {"job", if_any(row.job)}, {"state", row.state}, {"words", row.words},
            {"read_since", row.read_since}};
}

Json in_json(const std::vector<desk::CatchView>& rows) {
    Json list = Json::array();
    for (const auto& row : rows) list.push_back(in_json(row));
    return list;
}

Json in_json(const desk::ComplaintView& complaint) {
    Json causes = Json::array();
    for (const auto& cause : complaint.causes)
        causes.push_back({{"failure", cause.failure}, {"mode", cause.mode}, {"share", cause.share}, {"looks_like", cause.looks_like},
                          {"cause", cause.cause}, {"reasons", cause.reasons}, {"checks", in_json(cause.checks)}, {"look_also", cause.look_also}});
    return {{"complaint", complaint.complaint}, {"job", complaint.job}, {"place", complaint.place}, {"customer", complaint.customer},
            {"symptom", complaint.symptom}, {"symptom_words", complaint.symptom_words}, {"words", complaint.words}, {"at_once", if_any(complaint.at_once)},
            {"told_at", complaint.told_at}, {"since", if_any(complaint.since)}, {"air", if_any(complaint.air)}, {"by", complaint.by},
            {"age_days", complaint.age_days}, {"open", complaint.is_open}, {"survey", if_any(complaint.survey)},
            {"commissioning", if_any(complaint.commissioning)}, {"revisit", if_any(complaint.revisit)}, {"causes", causes},
            {"repeat", in_json(complaint.repeat)}, {"cause", if_any(complaint.cause)}, {"found", if_any(complaint.found)},
            {"check", if_any(complaint.check)}, {"closed_at", if_any(complaint.closed_at)}, {"proved_in", if_any(complaint.visit)}};
}

std::string line_of(const desk::ComplaintView& complaint) {
    return fmt::format("{}  {}  {:<14} {:<18} {}{}\n", complaint.told_at.substr(0, 10), complaint.complaint, complaint.job, complaint.place,
                       complaint.symptom_words, complaint.is_open ? fmt::format(", open for {} days", complaint.age_days) : ", closed");
}

std::string in_text(const desk::ComplaintView& complaint) {
    std::string text = line_of(complaint);
    const auto add = [&](std::string_view what, const std::string& value) {
        if (!value.empty()) text += fmt::format("  {}: {}\n", what, value);
    };
    add("in their words", complaint.words);
    add("since", complaint.since);
    add("outside", complaint.air);
    add("taken by", complaint.by);
    add("survey", complaint.survey);
    add("commissioning", complaint.commissioning);
    if (!complaint.is_open) {
        add("it was", complaint.cause_words.empty() ? complaint.found : complaint.cause_words + ". " + complaint.found);
        add("proved by", complaint.check_title);
        add("proved in", complaint.visit);
        return text;
    }
    add("visit", complaint.revisit);
    if (!complaint.causes.empty()) text += "  Likely, given the record of this house:\n";
    for (const auto& cause : complaint.causes) {
        const auto share = complaint.causes.size() == 1 ? std::string{"alone"} : fmt::format("{:3.0f} %", 100.0 * cause.share);
        text += fmt::format("  {}  {}. {}\n", share, cause.mode, cause.looks_like);
        for (const auto& reason : cause.reasons) text += fmt::format("           {}\n", reason);
    }
    if (!complaint.repeat.empty()) text += "  Repeat, in this order:\n";
    for (const auto& row : complaint.repeat) text += fmt::format("    {:<20} {}\n", row.check, row.words);
    return text;
}

Output list_all(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    if (!has_journal(world)) return nothing_yet(world, "complaints", form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const auto all = desk::complaint_list(*desk);
    if (!all) return told_as(all.error(), form);
    Output output;
    if (form == Form::Json) {
        Json list = Json::array();
        for (const auto& complaint : *all) list.push_back(in_json(complaint));
        output.data = document({{"complaints", list}});
        return output;
    }
    for (const auto& complaint : *all) output.data += line_of(complaint);
    if (all->empty()) output.talk = "Nobody has complained.\n";
    return output;
}

Output shown(desk::Desk& desk, const std::string& job, Form form) {
    const auto sheet = desk::complaint_sheet(desk, job);
    if (!sheet) return told_as(sheet.error(), form);
    Output output;
    if (form == Form::Json) {
        Json list = Json::array();
        for (const auto& complaint : sheet->complaints) list.push_back(in_json(complaint));
        Json symptoms = Json::array();
        for (const auto& symptom : sheet->symptoms)
            symptoms.push_back({{"symptom", symptom.symptom}, {"words", symptom.words}, {"at_once", if_any(symptom.at_once)}});
        output.data = document({{"job", sheet->job}, {"place", sheet->place}, {"complaints", list}, {"symptoms", symptoms}, {"weights", sheet->weights}});
        return output;
    }
    for (const auto& complaint : sheet->complaints) output.data += in_text(complaint);
    if (!sheet->complaints.empty()) {
        output.talk = sheet->weights + "\n";
        return output;
    }
    output.talk = "Nobody has complained of this house. Take a call with --symptom, one of:\n";
    for (const auto& symptom : sheet->symptoms) output.talk += fmt::format("  {:<16} {}\n", symptom.symptom, symptom.words);
    return output;
}

/// One complaint of the house, whole.
Output shown_one(desk::Desk& desk, const std::string& job, const std::string& number, Form form) {
    const auto sheet = desk::complaint_sheet(desk, job);
    if (!sheet) return told_as(sheet.error(), form);
    for (const auto& complaint : sheet->complaints) {
        if (complaint.complaint != number) continue;
        Output output;
        output.data = form == Form::Json ? document(in_json(complaint)) : complaint.complaint + "\n" + in_text(complaint);
        if (complaint.is_open && !complaint.at_once.empty()) output.talk = "Tell the caller: " + complaint.at_once + "\n";
        return output;
    }
    return shown(desk, job, form);
}

/// The number of the one that is to be closed, for showing it afterwards.
std::string number_meant(desk::Desk& desk, const std::string& job, const std::string& named) {
    if (!named.empty()) return named;
    if (const auto sheet = desk::complaint_sheet(desk, job))
        for (const auto& complaint : sheet->complaints)
            if (complaint.is_open && complaint.job == job) return complaint.complaint;
    return "";
}

}  // namespace

Output run_complaint(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(1, "The job number, or list");
    if (!job) return told_as(job.error(), form);
    if (*job == "list") return list_all(arguments, world);
    const bool takes = arguments.has("symptom");
    const bool closes = arguments.has("close");
    const bool visits = arguments.has("revisit");
    if (takes + closes + visits > 1)
        return told_as({"--symptom, --close and --revisit are three calls.", "complaint", "Do one after the other.", ProblemKind::WrongUse}, form);
    auto desk = open_desk(world, takes || closes || visits ? desk::Access::Write : desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    if (takes) {
        const auto number = desk->carry_out(desk::TakeComplaint{.job = *job, .symptom = arguments.value("symptom"), .words = arguments.value("words"),
                                                                .since = arguments.value("since"), .air = arguments.value("air"), .by = arguments.value("by")});
        if (!number) return told_as(number.error(), form);
        return shown_one(*desk, *job, *number, form);
    }
    const auto named = arguments.value("complaint");
    if (closes) {
        const auto number = number_meant(*desk, *job, named);
        const auto cause = arguments.value("close");
        const auto done = desk->carry_out(desk::CloseComplaint{.job = *job, .complaint = named, .cause = cause == "other" ? "" : cause,
                                                               .found = arguments.value("words"), .check = arguments.value("check"),
                                                               .visit = arguments.value("proved-in"), .by = arguments.value("by")});
        if (!done) return told_as(done.error(), form);
        return shown_one(*desk, *job, number, form);
    }
    if (!visits) return shown(*desk, *job, form);
    const auto visit = desk->carry_out(desk::VisitForComplaint{*job, named});
    if (!visit) return told_as(visit.error(), form);
    Output output;
    output.data = form == Form::Json ? document({{"job", *visit}, {"after", *job}}) : fmt::format("{}\n  after {}\n", *visit, *job);
    return output;
}

}  // namespace wm::app
