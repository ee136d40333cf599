#include "desk/day_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>
#include <utility>

#include "desk/desk.hpp"
#include "desk/in_hand.hpp"
#include "desk/pick_list.hpp"
#include "desk/reissue.hpp"
#include "desk/view_parts.hpp"
#include "handover/calendar.hpp"
#include "units/calendar.hpp"

namespace wm::desk {

namespace {

bool is_of_roof_day(std::string_view checklist) { return checklist == "kit" || checklist == "commissioning"; }

const checklist::Check* check_by(const checklist::Checklist& list, checklist::ComputedRule rule) {
    for (const auto& check : list.checks)
        if (check.rule == rule) return &check;
    return nullptr;
}

std::vector<std::string> weather_of(Assessment& assessment, const checklist::Checklist& list) {
    std::vector<std::string> sentences;
    for (const auto& check : list.checks) {
        if (std::find(check.cautions.begin(), check.cautions.end(), "C-WEATHER") == check.cautions.end()) continue;
        auto words = limits_view(checklist::limits_for(check, "", assessment.context())).text;
        for (const auto& part : check.parts)
            if (!part.said.empty()) words += (words.empty() ? "" : ", ") + part.said;
        if (!words.empty()) sentences.push_back(fmt::format("{}: {}", check.title, words));
    }
    return sentences;
}

std::vector<std::string> not_in_order(const JobInHand& hand, Assessment& assessment) {
    std::vector<std::string> sentences;
    for (const auto rule : {checklist::ComputedRule::CrewLicences, checklist::ComputedRule::InstrumentsDue, checklist::ComputedRule::KitReady}) {
        const auto* check = check_by(*hand.list, rule);
        if (check == nullptr) continue;
        const auto& standing = assessment.of(*check);
        if (standing.outcome != Outcome::Conforms) sentences.push_back(fmt::format("{}: {}", check->title, standing.why));
    }
    for (const auto* at = hand.earlier.get(); at != nullptr; at = at->earlier.get())
        if (at->list->name == "kit" && at->state().signatures.empty())
            sentences.push_back(fmt::format("The kit {} is not signed yet.", at->state().number));
    return sentences;
}

Result<PlannedJob> planned(Desk& desk, const JobRow& row, JobInHand hand, const std::string& day) {
    hand.today = day;
    Assessment assessment{hand};
    PlannedJob job{.day = day, .job = row.job, .checklist = row.checklist, .place = row.place, .crew = row.crew,
                   .weather = weather_of(assessment, *hand.list), .not_in_order = not_in_order(hand, assessment), .load = {}, .instruments = {}};
    if (!is_of_roof_day(row.checklist)) return job;
    const auto list = pick_list(desk, row.job);
    if (!list) return tl::unexpected(list.error());
    for (const auto& part : list->rows) job.load.push_back(fmt::format("{} {}", part.amount.empty() ? "?" : part.amount, part.name));
    for (const auto& one : list->instruments) job.instruments.push_back(one.type);
    return job;
}

Result<void> is_span(const std::string& first, const std::string& last) {
    for (const auto& day : {first, last})
        if (!days_between(day, day))
            return refused({fmt::format("\"{}\" is no day.", day), "plan", "Write it as 2027-03-18.", ProblemKind::Unreadable});
    if (last < first)
        return refused({fmt::format("The last day {} lies before the first, {}.", last, first), "plan", "Turn them round.", ProblemKind::Unreadable});
    return {};
}

}  // namespace

Result<void> may_have_a_day(const JobInHand& before, std::string_view checklist) {
    if (!is_of_roof_day(checklist)) return {};
    for (const auto* at = &before; at != nullptr; at = at->earlier.get()) {
        const auto* verdict = check_by(*at->list, checklist::ComputedRule::SurveyVerdict);
        if (verdict == nullptr) continue;
        Assessment assessment{*at};
        const auto& standing = assessment.of(*verdict);
        if (standing.outcome == Outcome::Conforms) return {};
        return refused({"No day is set for this house yet. " + standing.why, "the survey " + at->state().number,
                        "Clear what blocks it, or finish the survey; then set the day.", ProblemKind::Refused});
    }
    return {};
}

Result<DayPlan> day_plan(Desk& desk, const std::string& first, const std::string& last, const std::string& crew) {
    if (const auto span = is_span(first, last); !span) return tl::unexpected(span.error());
    const auto rows = desk.job_rows();
    if (!rows) return tl::unexpected(rows.error());
    DayPlan plan{.first = first, .last = last, .jobs = {}, .due = {}};
    for (const auto& row : *rows) {
        if (row.day.empty() || row.day < first || row.day > last || (!crew.empty() && row.crew != crew)) continue;
        auto hand = desk.in_hand(row.job);
        if (!hand) return tl::unexpected(hand.error());
        auto job = planned(desk, row, *std::move(hand), row.day);
        if (!job) return tl::unexpected(job.error());
        plan.jobs.push_back(*std::move(job));
    }
    std::sort(plan.jobs.begin(), plan.jobs.end(), [](const auto& a, const auto& b) { return std::tie(a.day, a.job) < std::tie(b.day, b.job); });
    auto due = desk.due();
    if (!due) return tl::unexpected(due.error());
    std::erase_if(*due, [&](const DueView& each) { return each.until > last || (!crew.empty() && each.owner != crew); });
    plan.due = *std::move(due);
    return plan;
}

Result<std::string> calendar_of(const Desk& desk, const DayPlan& plan) {
    const auto now = desk.setup().now();
    handover::CareCalendar calendar{.house = "visit", .job = "plan", .company = "", .place = "", .written = printed_moment(now), .dates = {}, .name = "Jobs of the crew"};
    for (const auto& job : plan.jobs) {
        std::string text;
        const auto add = [&](std::string_view heading, const std::vector<std::string>& lines) {
            if (!lines.empty()) text += fmt::format("{}{}:\n{}", text.empty() ? "" : "\n", heading, fmt::join(lines, "\n"));
        };
        add("Weather", job.weather);
        add("NOT IN ORDER by then", job.not_in_order);
        add("Load", job.load);
        add("Instruments", job.instruments);
        calendar.dates.push_back({.key = job.job, .date = job.day, .title = fmt::format("{}: {} {}", job.place, job.checklist, job.job),
                                  .text = std::move(text), .place = job.place, .days_ahead = 1});
    }
    return handover::care_calendar(calendar);
}

}  // namespace wm::desk
