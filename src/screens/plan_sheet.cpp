#include "screens/plan_sheet.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <string_view>
#include <utility>

#include "desk/view.hpp"
#include "screens/more_panel.hpp"
#include "units/calendar.hpp"

namespace wm::screens {
namespace {

using desk::PlannedJob;

constexpr int days_shown = 7;

std::string last_of(const std::string& first) { return units::day_after(first, days_shown - 1).value_or(first); }

std::string in_words(const std::string& day) { return weekday_of(day) + ' ' + day; }

bool row_key(Touch& touch, ScrollArea& area, const std::string& name, std::string words, std::string small) {
    const Rect strip = area.take(touch.row_side() + touch.mm(3.0F), touch.gap());
    return area.is_near(strip) && key(touch, name, strip, {.words = std::move(words), .small = std::move(small), .role = KeyRole::Row});
}

void lines(ScrollArea& area, std::string_view heading, const std::vector<std::string>& of, Face face) {
    if (!of.empty()) area.words(fmt::format("{}: {}", heading, fmt::join(of, "; ")), face);
}

std::optional<std::string> jobs_of(ScrollArea& area, Touch& touch, const desk::DayPlan& plan, std::string_view search) {
    std::optional<std::string> touched;
    std::string day;
    bool any = false;
    for (const PlannedJob& job : plan.jobs) {
        if (!desk::has_words(fmt::format("{} {} {} {} {}", job.job, job.place, job.crew, job.checklist, in_words(job.day)), search)) continue;
        any = true;
        if (job.day != day) area.heading(in_words(day = job.day));
        if (row_key(touch, area, job.job, job.place.empty() ? job.job : job.place,
                    fmt::format("{} · {}{}{}", job.job, job.checklist, job.crew.empty() ? "" : " · ", job.crew)))
            touched = job.job;
        for (const auto& line : job.not_in_order) area.words("Not in order by then. " + line, Face::Bold);
        for (const auto& line : job.weather) area.words(line);
        lines(area, "Load", job.load, Face::Body);
        lines(area, "Take", job.instruments, Face::Body);
        area.space(2.0F);
    }
    if (!any)
        area.words(plan.jobs.empty() ? "No job has its day in this week. A day is a fact of the house: \"day on which the crew comes\", behind More."
                                     : "No job of this week has all of these words.");
    return touched;
}

std::optional<std::string> put_off(ScrollArea& area, Touch& touch, const desk::DayPlan& plan, std::string_view search) {
    std::optional<std::string> touched;
    bool any = false;
    for (const auto& due : plan.due) {
        if (!desk::has_words(fmt::format("{} {} {} {}", due.job, due.place, due.owner, due.title), search)) continue;
        if (!std::exchange(any, true)) area.heading("Put off, due by then");
        if (row_key(touch, area, due.job + '/' + due.check, fmt::format("{}: {}", due.until, due.title),
                    fmt::format("{} · {}{}{}", due.job, due.place, due.owner.empty() ? "" : " · ", due.owner)))
            touched = due.job;
    }
    return touched;
}

void ask(PlanDraft& draft, Requests& requests) {
    draft.asked = draft.first;
    requests.emplace_back(AskPlan{draft.first, last_of(draft.first)});
}

void deeds(Touch& touch, const Rect& at, bool here, const std::string& today, PlanDraft& draft, Requests& requests) {
    const bool ahead = draft.first > today;
    const auto cells = columns(at, 4, touch.gap());
    if (key(touch, "back", cells[0], {.words = "Back"})) draft = {};
    if (key(touch, "earlier", cells[1], {.words = "A week back", .state = ahead ? KeyState::Ready : KeyState::Blocked, .why = "The days begin with today."}))
        draft.first = units::day_after(draft.first, -days_shown).value_or(today);
    if (key(touch, "later", cells[2], {.words = "A week on"})) draft.first = units::day_after(draft.first, days_shown).value_or(today);
    if (key(touch, "calendar", cells[3],
            {.words = "Calendar", .small = "a file in the outbox", .role = here ? KeyRole::Primary : KeyRole::Answer,
             .state = here ? KeyState::Ready : KeyState::Blocked}))
        requests.emplace_back(SavePlan{draft.first, last_of(draft.first)});
}

}  // namespace

void open_plan(PlanDraft& draft, const std::string& day, Requests& requests) {
    draft = {.is_open = true, .first = day, .asked = {}};
    ask(draft, requests);
}

std::optional<std::string> plan_sheet(Touch& touch, const Rect& at, const World& world, std::string_view search, PlanDraft& draft,
                                      Requests& requests) {
    const Scope scope{touch, "plan"};
    const std::string today = world.moment.now.substr(0, 10);
    if (draft.first.empty()) draft.first = today;
    if (draft.asked != draft.first) ask(draft, requests);
    const bool here = world.plan && world.plan->first == draft.first;
    Rect rest = at;
    const Rect below = cut_bottom(rest, touch.strong_side(), touch.gap());
    std::optional<std::string> touched;
    {
        ScrollArea area{touch, "days", rest};
        if (!here) area.words("The days are being looked through.");
        if (here) touched = jobs_of(area, touch, *world.plan, search);
        if (here)
            if (const auto due = put_off(area, touch, *world.plan, search)) touched = due;
    }
    deeds(touch, below, here, today, draft, requests);
    return touched;
}

}  // namespace wm::screens
