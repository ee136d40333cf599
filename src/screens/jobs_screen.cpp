// Job list and the sheet for a new job.
#include "screens/jobs_screen.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "screens/label.hpp"
#include "screens/photo_panel.hpp"

namespace wm::screens {
namespace {

using desk::JobRow;

enum class Group { Today, Waiting, Done };

Group group_of(const JobRow& row, std::string_view now) {
    const std::string_view today = now.substr(0, 10);
    // What was put off comes back on its day.
    if (!row.due.empty() && row.due <= today) return Group::Today;
    if (row.state == "handed over" || row.state == "restricted") return row.due.empty() ? Group::Done : Group::Waiting;
    if (row.day == today || row.started.substr(0, 10) == today) return Group::Today;
    return Group::Waiting;
}

bool job_key(Touch& touch, const Rect& at, const JobRow& row) {
    const Pressed pressed = bare_key(touch, row.job, at, {.words = row.job, .role = KeyRole::Row});
    Rect inside = at.inset(touch.mm(2.0F));
    Rect right = cut_right(inside, inside.w * 0.34F, touch.mm(3.0F));
    const std::string path = touch.named(row.job);
    const std::string where = row.customer.empty() ? row.place : row.customer + ", " + row.place;
    const Rect below = cut_bottom(inside, inside.h * 0.45F);
    draw_label(touch, path, inside, where.empty() ? row.job : where,
               {.face = Face::Body, .colour = touch.theme.text});
    draw_label(touch, path, below,
               fmt::format("{} · {}{}{} · {}{}", row.job, row.checklist, row.crew.empty() ? "" : " · ", row.crew,
                           row.started.substr(0, 10), row.practice ? " · practice" : ""),
               {.face = Face::Small, .colour = touch.theme.quiet});
    const Rect counts = cut_bottom(right, right.h * 0.45F);
    draw_label(touch, path, right, row.state,
               {.face = Face::Bold, .across = Across::Right, .colour = touch.theme.text});
    // Only a job that was opened was counted: silence does not mean that nothing is open.
    std::string words = row.open > 0 ? fmt::format("{} open{}", row.open, row.failed > 0 ? "" : " before sign-off") : std::string{};
    if (row.failed > 0)
        words += fmt::format("{}{} not conforming", words.empty() ? "" : ", ", row.failed);
    if (row.complaints_open > 0) words += fmt::format("{}{} called", words.empty() ? "" : ", ", row.complaints_open);
    if (!row.day.empty()) words += fmt::format("{}on {}", words.empty() ? "" : ", ", row.day);
    if (!row.due.empty()) words += fmt::format("{}due {}", words.empty() ? "" : ", ", row.due);
    draw_label(touch, path, counts, words,
               {.face = Face::Small, .across = Across::Right, .colour = touch.theme.quiet});
    return pressed.released;
}

const FoundJobs& look_for(const World& world, JobsDraft& draft) {
    FoundJobs& found = draft.found;
    const std::string day = world.moment.now.substr(0, 10);
    if (found.look == world.jobs_look && found.of == world.jobs.size() && found.search == draft.search &&
        found.day == day)
        return found;
    found = {.rows = {}, .search = draft.search, .day = day, .look = world.jobs_look, .of = world.jobs.size()};
    for (std::size_t i = 0; i < world.jobs.size(); ++i)
        if (matches(world.jobs[i], draft.search))
            found.rows[static_cast<std::size_t>(group_of(world.jobs[i], world.moment.now))].push_back(i);
    auto& done = found.rows[static_cast<std::size_t>(Group::Done)];
    std::stable_sort(done.begin(), done.end(), [&](std::size_t a, std::size_t b) {
        return world.jobs[a].started > world.jobs[b].started;
    });
    return found;
}

/// The list a new person tries the tool with; it needs no house.
constexpr std::string_view tutorial = "tutorial";

bool can_be_tried(const World& world) {
    return std::find(world.checklists.begin(), world.checklists.end(), tutorial) != world.checklists.end();
}

void start_tutorial(Requests& requests) { requests.emplace_back(StartJob{std::string{tutorial}, "", "", true}); }

void days_key(Touch& touch, ScrollArea& area, const World& world, JobsDraft& draft, Requests& requests) {
    if (key(touch, "days", area.take(touch.row_side(), touch.gap()),
            {.words = "The days ahead", .small = "who goes where, weather, papers, what to load", .role = KeyRole::Row}))
        open_plan(draft.plan, world.moment.now.substr(0, 10), requests);
}

std::optional<std::string> list(Touch& touch, const Rect& at, const World& world, JobsDraft& draft, Requests& requests) {
    constexpr std::array<std::string_view, 3> titles{"Today", "Waiting", "Handed over"};
    std::optional<std::string> opened;
    const FoundJobs& found = look_for(world, draft);
    ScrollArea area{touch, "list", at};
    bool any = false;
    if (draft.mode == JobsMode::Calling) area.words("Whose house is it? Touch it.", Face::Bold);
    for (std::size_t section = 0; section < titles.size(); ++section) {
        // Behind what is to be done today.
        if (section == 1 && draft.mode == JobsMode::List && !world.jobs.empty()) days_key(touch, area, world, draft, requests);
        if (!found.rows[section].empty()) area.heading(titles[section]);
        for (const std::size_t i : found.rows[section]) {
            any = true;
            const Rect strip = area.take(touch.row_side() + touch.mm(3.0F), touch.gap());
            if (area.is_near(strip) && job_key(touch, strip, world.jobs[i])) opened = world.jobs[i].job;
        }
    }
    if (!any && world.jobs.empty())
        area.words(world.listed ? "No job yet. Start one with New job." : "The jobs are being read.");
    if (world.jobs.empty() && world.listed && can_be_tried(world) &&
        key(touch, "try it", area.take(touch.strong_side(), touch.gap()),
            {.words = "Try the tool first", .small = "two minutes, nothing counts"}))
        start_tutorial(requests);
    if (!any && !world.jobs.empty()) area.words("No job has all of these words.");
    return opened;
}

/// A row of keys of which one is chosen.
void one_of(Touch& touch, const Rect& at, const std::vector<std::string>& offered,
            std::string& value) {
    if (offered.empty()) return;
    const std::vector<Rect> cells = columns(at, static_cast<int>(offered.size()), touch.gap());
    for (std::size_t i = 0; i < offered.size(); ++i) {
        if (key(touch, offered[i], cells[i],
                {.words = offered[i],
                 .state = offered[i] == value ? KeyState::Chosen : KeyState::Ready})) {
            value = offered[i];
        }
    }
}

void facts_rows(Touch& touch, const Rect& at, const World& world, JobsDraft& draft, Requests& requests) {
    ScrollArea area{touch, "facts", at};
    area.words("What is known of the house:", Face::Bold);
    if (key(touch, "blank", area.take(touch.row_side(), touch.gap()),
            {.words = "Nothing yet: ask on the way",
             .role = KeyRole::Row,
             .state = draft.without_facts ? KeyState::Chosen : KeyState::Ready})) {
        draft.without_facts = !draft.without_facts;
        draft.facts_path.clear();
    }
    area.words("from a file:", Face::Bold);
    if (key(touch, "look again", area.take(touch.key_side(), touch.gap()),
            {.words = "Look for new files", .role = KeyRole::Row}))
        requests.emplace_back(AskFiles{});
    if (world.facts_files.empty()) area.words(fmt::format("No facts file lies in {} yet.", world.facts_folder), Face::Small);
    for (const std::string& path : world.facts_files) {
        if (key(touch, path, area.take(touch.row_side(), touch.gap()),
                {.words = file_name(path),
                 .role = KeyRole::Row,
                 .state = path == draft.facts_path ? KeyState::Chosen : KeyState::Ready})) {
            draft.facts_path = path;
            draft.without_facts = false;
        }
    }
    area.words("or carried on from an earlier job:", Face::Bold);
    for (auto at_row = world.jobs.rbegin(); at_row != world.jobs.rend(); ++at_row) {
        const JobRow& row = *at_row;
        // What was tried out is no house.
        if (row.practice && !draft.practice) continue;
        const Rect strip = area.take(touch.row_side(), touch.gap());
        if (!area.is_near(strip)) continue;
        if (key(touch, row.job, strip,
                {.words = row.job + "  " + row.place,
                 .small = row.checklist,
                 .role = KeyRole::Row,
                 .state = row.job == draft.after ? KeyState::Chosen : KeyState::Ready})) {
            draft.after = row.job == draft.after ? std::string{} : row.job;
        }
    }
}

void new_job(Touch& touch, const Rect& at, const World& world, JobsDraft& draft,
             Requests& requests) {
    const Scope scope{touch, "new"};
    Rect rest = at;
    const std::vector<Rect> deeds =
        columns(cut_bottom(rest, touch.strong_side(), touch.gap()), 3, touch.gap());
    line_of_text(touch, cut_top(rest, touch.key_side()), "New job: which checklist?",
                 {.face = Face::Bold, .colour = touch.theme.text});
    one_of(touch, cut_top(rest, touch.strong_side(), touch.gap()), world.checklists,
           draft.checklist);
    facts_rows(touch, rest, world, draft, requests);
    if (key(touch, "back", deeds[0], {.words = "Back"})) draft.mode = JobsMode::List;
    if (key(touch, "practice", deeds[1],
            {.words = draft.practice || draft.checklist == tutorial ? "Practice: not counted" : "A real job",
             .small = draft.checklist == tutorial ? "" : draft.practice ? "touch: make it count" : "touch: only practise",
             .state = draft.practice || draft.checklist == tutorial ? KeyState::Chosen : KeyState::Ready})) {
        draft.practice = !draft.practice;
    }
    const bool tried = draft.checklist == tutorial;
    const bool complete =
        tried || (!draft.checklist.empty() && (draft.without_facts || !draft.facts_path.empty() || !draft.after.empty()));
    const std::string_view wanted = complete                  ? std::string_view{}
                                    : draft.checklist.empty() ? "first choose a checklist"
                                                              : "first choose what is known of the house";
    if (key(touch, "start", deeds[2],
            {.words = "Start the job",
             .small = wanted,
             .role = complete ? KeyRole::Primary : KeyRole::Answer,
             .state = complete ? KeyState::Ready : KeyState::Blocked,
             .why = wanted})) {
        if (tried) start_tutorial(requests);
        else requests.emplace_back(StartJob{draft.checklist, draft.facts_path, draft.after, draft.practice});
        draft = {};
    }
}

}  // namespace

bool matches(const JobRow& row, std::string_view search) {
    return desk::has_words(row.job + ' ' + row.customer + ' ' + row.place + ' ' + row.crew + ' ' + row.checklist + ' ' + row.kind +
                               ' ' + row.state + ' ' + row.started,
                           search);
}

std::optional<std::string> jobs_screen(Touch& touch, const Rect& at, const World& world,
                                       JobsDraft& draft, Requests& requests) {
    const Scope scope{touch, "jobs"};
    if (draft.mode == JobsMode::New) {
        new_job(touch, at, world, draft, requests);
        return std::nullopt;
    }
    if (draft.complaint.is_open) {
        const auto wanted = complaint_sheet(touch, at, world, draft.complaint, requests);
        if (wanted) requests.emplace_back(OpenJobView{*wanted});
        return wanted;
    }
    Rect rest = at;
    Rect head = cut_top(rest, touch.key_side(), touch.gap());
    const bool calling = draft.mode == JobsMode::Calling;
    if (key(touch, "call", cut_left(head, touch.mm(34.0F), touch.gap()),
            {.words = "A customer calls", .state = calling ? KeyState::Chosen : KeyState::Ready})) {
        draft.mode = calling ? JobsMode::List : JobsMode::Calling;
        draft.plan = {};
    }
    if (key(touch, "new job", cut_right(head, touch.mm(44.0F), touch.gap()),
            {.words = "New job", .role = KeyRole::Primary})) {
        draft.mode = JobsMode::New;
        requests.emplace_back(AskFiles{});
    }
    (void)field(touch, "search", head, draft.search, "Search: house, crew, job number, state");
    const std::optional<std::string> opened = draft.plan.is_open ? plan_sheet(touch, rest, world, draft.search, draft.plan, requests)
                                                                 : list(touch, rest, world, draft, requests);
    if (opened && calling) {
        draft.mode = JobsMode::List;
        open_complaints(draft.complaint, *opened, requests);
        return std::nullopt;
    }
    if (opened) requests.emplace_back(OpenJobView{*opened});
    return opened;
}

}  // namespace wm::screens
