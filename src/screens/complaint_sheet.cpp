#include "screens/complaint_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "screens/more_panel.hpp"

namespace wm::screens {
namespace {

using desk::ComplaintSheetView;
using desk::ComplaintView;
using desk::LikelyCauseView;

constexpr std::size_t causes_shown = 5;

// Where one cause is known there is nothing to weigh it against.
void one_cause(ScrollArea& area, const LikelyCauseView& cause, std::size_t known) {
    area.words(known == 1 ? fmt::format("The one cause known: {}", cause.mode) : fmt::format("{:.0f} %  {}", 100.0 * cause.share, cause.mode), Face::Bold);
    area.words(cause.looks_like + " " + cause.cause, Face::Small);
    for (const std::string& reason : cause.reasons) area.words(reason, Face::Small);
}

std::string told_words(const ComplaintView& complaint) {
    std::string words = complaint.symptom_words;
    if (!complaint.since.empty()) words += ", since " + complaint.since;
    if (!complaint.air.empty()) words += ", at " + complaint.air + " outside";
    return words;
}

void closed(ScrollArea& area, const ComplaintView& complaint) {
    area.words(fmt::format("{} · {}", complaint.told_at.substr(0, 10), told_words(complaint)), Face::Bold);
    area.words(fmt::format("{}{}{}", complaint.cause_words.empty() ? "" : complaint.cause_words + ". ", complaint.found,
                           complaint.check_title.empty() ? "" : " Proved by: " + complaint.check_title + "."),
               Face::Small);
}

void open_one(Touch& touch, ScrollArea& area, const ComplaintView& complaint, ComplaintDraft& draft, std::optional<std::string>& wanted,
              Requests& requests) {
    const Scope scope{touch, complaint.complaint};
    area.words(told_words(complaint), Face::Bold);
    area.words(fmt::format("{} · told {} · {} days", complaint.complaint, complaint.told_at.substr(0, 10), complaint.age_days), Face::Small);
    if (!complaint.words.empty()) area.words(complaint.words);
    if (!complaint.at_once.empty()) area.words("Until somebody comes: " + complaint.at_once, Face::Bold, touch.theme.warn_text);
    const auto deeds = columns(area.take(touch.strong_side(), touch.gap()), 2, touch.gap());
    if (complaint.revisit.empty()) {
        if (key(touch, "visit", deeds[0], {.words = "Plan a visit", .small = "it knows all of this", .role = KeyRole::Primary}))
            requests.emplace_back(desk::Intent{desk::VisitForComplaint{complaint.job, complaint.complaint}});
    } else if (key(touch, "visit", deeds[0], {.words = complaint.revisit, .small = "the visit that is planned"})) {
        wanted = complaint.revisit;
    }
    if (key(touch, "close", deeds[1], {.words = "Close it"})) {
        draft.mode = ComplaintMode::Closing;
        draft.close = {.job = complaint.job, .complaint = complaint.complaint, .cause = "", .found = "", .check = "", .visit = complaint.revisit, .by = ""};
    }
    area.words("Likely at this house:", Face::Bold);
    for (std::size_t i = 0; i < std::min(causes_shown, complaint.causes.size()); ++i) one_cause(area, complaint.causes[i], complaint.causes.size());
    area.words("Repeat, in this order:", Face::Bold);
    for (const desk::CatchView& row : complaint.repeat) area.words(row.words);
}

void reading(Touch& touch, const Rect& at, const ComplaintSheetView& sheet, ComplaintDraft& draft, std::optional<std::string>& wanted,
             Requests& requests) {
    Rect rest = at;
    const auto deeds = columns(cut_bottom(rest, touch.strong_side(), touch.gap()), 2, touch.gap());
    {
        ScrollArea area{touch, "told", rest};
        area.heading("Calls from " + (sheet.customer.empty() ? sheet.place : sheet.customer + ", " + sheet.place));
        if (sheet.complaints.empty()) area.words("Nobody has complained of this house.");
        for (const ComplaintView& complaint : sheet.complaints) {
            if (complaint.is_open) open_one(touch, area, complaint, draft, wanted, requests);
            else closed(area, complaint);
        }
        if (!sheet.complaints.empty()) area.words(sheet.weights, Face::Small, touch.theme.quiet);
    }
    if (key(touch, "back", deeds[0], {.words = "Back"})) draft = {};
    if (key(touch, "new", deeds[1], {.words = "Take a call", .role = KeyRole::Primary})) {
        draft.mode = ComplaintMode::Taking;
        draft.take = {.job = draft.job, .symptom = ""};
    }
}

void taking(Touch& touch, const Rect& at, const World& world, const ComplaintSheetView& sheet, ComplaintDraft& draft, Requests& requests) {
    Rect rest = at;
    const auto deeds = columns(cut_bottom(rest, touch.strong_side(), touch.gap()), 2, touch.gap());
    auto& take = draft.take;
    {
        ScrollArea area{touch, "take", rest};
        area.heading(fmt::format("What does {} say?", sheet.customer.empty() ? "the customer of " + sheet.place : sheet.customer + ", " + sheet.place + ","));
        Grid grid{.area = {}, .per_row = fitting(area.width(), touch.mm(56.0F), touch.gap()), .height = touch.row_side(), .gap = touch.gap()};
        grid.area = area.take(grid.total_height(static_cast<int>(sheet.symptoms.size())), touch.gap());
        for (std::size_t i = 0; i < sheet.symptoms.size(); ++i) {
            const auto& symptom = sheet.symptoms[i];
            if (key(touch, "it is " + symptom.symptom, grid.cell(static_cast<int>(i)),
                    {.words = symptom.words, .state = symptom.symptom == take.symptom ? KeyState::Chosen : KeyState::Ready, .face = Face::Small}))
                take.symptom = symptom.symptom;
            if (symptom.symptom == take.symptom && !symptom.at_once.empty())
                area.words("Say now: " + symptom.at_once, Face::Bold, touch.theme.warn_text);
        }
        (void)field(touch, "words", area.take(touch.key_side(), touch.gap()), take.words, "in the customer's own words");
        const std::array<std::pair<const char*, int>, 3> days{{{"since today", 0}, {"since yesterday", -1}, {"for a week", -7}}};
        const auto cells = columns(area.take(touch.row_side(), touch.gap()), static_cast<int>(days.size()), touch.gap());
        for (std::size_t i = 0; i < days.size(); ++i) {
            const auto day = day_after(world.moment.now, days[i].second);
            if (key(touch, days[i].first, cells[i], {.words = days[i].first, .state = day == take.since ? KeyState::Chosen : KeyState::Ready, .face = Face::Small}))
                take.since = day == take.since ? std::string{} : day;
        }
        (void)field(touch, "since", area.take(touch.key_side(), touch.gap()), take.since, "since when, for example 2027-03-18");
        (void)field(touch, "air", area.take(touch.key_side(), touch.gap()), take.air, "temperature outside in °C, if it was told");
        (void)field(touch, "by", area.take(touch.key_side(), touch.gap()), take.by, "who takes the call");
    }
    if (key(touch, "back", deeds[0], {.words = "Back"})) draft.mode = ComplaintMode::Reading;
    const bool complete = !take.symptom.empty() && (take.symptom != "other" || !take.words.empty());
    if (key(touch, "keep", deeds[1],
            {.words = "Keep the call", .small = complete ? "" : take.symptom.empty() ? "first choose what it is" : "first write what it is",
             .role = complete ? KeyRole::Primary : KeyRole::Answer, .state = complete ? KeyState::Ready : KeyState::Blocked,
             .why = take.symptom.empty() ? "First choose what it is." : "First write what it is."})) {
        requests.emplace_back(desk::Intent{take});
        draft.sent = ComplaintMode::Taking;
        draft.sent_after = world.answered;
        draft.mode = ComplaintMode::Reading;
    }
}

const ComplaintView* meant(const ComplaintSheetView& sheet, const std::string& number) {
    for (const ComplaintView& complaint : sheet.complaints)
        if (complaint.complaint == number) return &complaint;
    return nullptr;
}

void closing(Touch& touch, const Rect& at, const World& world, const ComplaintView& complaint, ComplaintDraft& draft, Requests& requests) {
    Rect rest = at;
    const auto deeds = columns(cut_bottom(rest, touch.strong_side(), touch.gap()), 2, touch.gap());
    auto& close = draft.close;
    {
        ScrollArea area{touch, "end", rest};
        area.heading("What was it?");
        area.words(told_words(complaint));
        const auto choose = [&](const std::string& id, const std::string& words, std::string& into) {
            if (key(touch, id.empty() ? "other" : id, area.take(touch.row_side(), touch.gap()),
                    {.words = words, .role = KeyRole::Row, .state = into == id ? KeyState::Chosen : KeyState::Ready}))
                into = id;
        };
        {
            const Scope scope{touch, "causes"};
            for (const LikelyCauseView& cause : complaint.causes) choose(cause.failure, cause.mode, close.cause);
            choose("", "None of these", close.cause);
        }
        (void)field(touch, "found", area.take(touch.key_side(), touch.gap()), close.found, "what it was, and what was done");
        area.words("Which check proves that it is right now?", Face::Bold);
        const Scope scope{touch, "checks"};
        for (const desk::CatchView& row : complaint.repeat)
            if (row.read_since && (row.state == "conforms" || row.state == "put right")) choose(row.check, row.title, close.check);
        if (!close.visit.empty()) choose("", "The visit " + close.visit + " alone", close.check);
        else area.words("A check that was read since the call and conforms, or a visit. Plan a visit if there is none.", Face::Small);
    }
    if (key(touch, "back", deeds[0], {.words = "Back"})) draft.mode = ComplaintMode::Reading;
    const bool complete = !close.found.empty() && (!close.check.empty() || !close.visit.empty());
    if (key(touch, "close", deeds[1],
            {.words = "Close the complaint", .small = complete ? "" : close.found.empty() ? "first write what it was" : "first choose what proves it",
             .role = complete ? KeyRole::Primary : KeyRole::Answer, .state = complete ? KeyState::Ready : KeyState::Blocked,
             .why = close.found.empty() ? "First write what it was." : "First choose what proves that it is put right."})) {
        requests.emplace_back(desk::Intent{close});
        draft.sent = ComplaintMode::Closing;
        draft.sent_after = world.answered;
        draft.mode = ComplaintMode::Reading;
    }
}

}  // namespace

void open_complaints(ComplaintDraft& draft, const std::string& job, Requests& requests) {
    draft = {};
    draft.is_open = true;
    draft.job = job;
    requests.emplace_back(AskComplaints{job});
}

void look_after_call(const World& world, ComplaintDraft& draft) {
    if (!draft.sent) return;
    if (world.saving || world.answered != draft.sent_after) draft.was_on_its_way = true;
    const bool refused = world.refused_since(draft.sent_after);
    if (!draft.was_on_its_way || (!refused && world.saving)) return;
    if (refused) draft.mode = *draft.sent;
    draft.sent.reset();
    draft.was_on_its_way = false;
}

std::optional<std::string> complaint_sheet(Touch& touch, const Rect& at, const World& world, ComplaintDraft& draft, Requests& requests) {
    const Scope scope{touch, "complaints"};
    std::optional<std::string> wanted;
    if (!world.complaints || world.complaints->job != draft.job) {
        Rect rest = at;
        if (key(touch, "back", cut_bottom(rest, touch.strong_side(), touch.gap()), {.words = "Back"})) draft = {};
        prose(touch, rest, "The record of this house is being looked up.", Face::Body, touch.theme.text);
        return std::nullopt;
    }
    look_after_call(world, draft);
    const ComplaintSheetView& sheet = *world.complaints;
    const ComplaintView* complaint = meant(sheet, draft.close.complaint);
    if (draft.mode == ComplaintMode::Taking) taking(touch, at, world, sheet, draft, requests);
    else if (draft.mode == ComplaintMode::Closing && complaint != nullptr) closing(touch, at, world, *complaint, draft, requests);
    else reading(touch, at, sheet, draft, wanted, requests);
    return wanted;
}

}  // namespace wm::screens
