#include "screens/trace_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "screens/week_filter.hpp"

namespace wm::screens {
namespace {

using desk::TraceView;

bool answers(const World& world, const TraceDraft& draft) {
    const auto& asked = draft.asked;
    return world.trace && world.trace->subject == (asked.batch.empty() ? asked.instrument : asked.batch) && world.trace->from == asked.from;
}

void choose_subject(Touch& touch, const Rect& at, const World& world, TraceDraft& draft, Requests& requests) {
    ScrollArea area{touch, "subjects", at};
    area.words("Which tool reads wrongly, or which batch is bad? Nothing is written by looking.");
    if (!world.week) return;
    const auto& choices = world.week->choices;
    {
        const Scope scope{touch, "tools"};
        area.heading("Tools");
        if (choices.instruments.empty()) area.words("No reading names a tool yet.", Face::Small);
        if (const auto pressed = choice_keys(touch, area, choices.instruments, "", 26.0F))
            open_trace(draft, {.instrument = choices.instruments[*pressed].name, .from = "", .until = "", .batch = ""}, requests);
    }
    const Scope scope{touch, "batches"};
    area.heading("Batches of parts");
    if (choices.batches.empty()) area.words("No job names a batch yet.", Face::Small);
    if (const auto pressed = choice_keys(touch, area, choices.batches, "", 50.0F))
        open_trace(draft, {.instrument = "", .from = "", .until = "", .batch = choices.batches[*pressed].name}, requests);
}

// Since when: the days on which it was used, thinned out to a few.
void choose_day(Touch& touch, ScrollArea& area, const TraceView& trace, TraceDraft& draft, Requests& requests) {
    if (trace.kind != "instrument") return;
    const Scope scope{touch, "since"};
    area.heading("Wrong since");
    std::vector<desk::WeekChoiceView> days{{"", "ever"}};
    std::vector<std::string> used;
    for (const auto& row : trace.rows)
        if (used.empty() || used.back() != row.day) used.push_back(row.day);
    constexpr std::size_t shown = 8;
    const std::size_t step = used.size() / shown + 1;
    for (std::size_t i = 0; i < used.size(); i += step) days.push_back({used[i], used[i]});
    if (!draft.asked.from.empty() && std::none_of(days.begin(), days.end(), [&](const auto& day) { return day.name == draft.asked.from; }))
        days.push_back({draft.asked.from, draft.asked.from});
    if (const auto pressed = choice_keys(touch, area, days, draft.asked.from, 30.0F)) {
        auto asked = draft.asked;
        asked.from = days[*pressed].name;
        open_trace(draft, asked, requests);
    }
}

void checks(ScrollArea& area, const TraceView& trace) {
    struct Standing {
        int readings = 0;
        bool hurts = false, hold = false;
    };
    std::map<std::string, Standing> by_title;
    for (const auto& row : trace.rows) {
        auto& standing = by_title[row.title];
        ++standing.readings;
        standing.hurts = standing.hurts || row.severity == "H";
        standing.hold = standing.hold || row.hold;
    }
    area.heading(trace.kind == "instrument" ? "Would be no evidence" : "Checks it stands behind");
    if (by_title.empty()) area.words("None.", Face::Small);
    for (const auto& [title, standing] : by_title)
        area.words(fmt::format("{} · {} {}{}{}", title, standing.readings, standing.readings == 1 ? "reading" : "readings",
                               standing.hurts ? " · can hurt someone" : "", standing.hold ? " · hold point" : ""),
                   standing.hurts ? Face::Bold : Face::Body);
}

void houses(Touch& touch, ScrollArea& area, const TraceView& trace, TraceDraft& draft, std::optional<std::string>& wanted, Requests& requests) {
    area.heading("Houses concerned");
    if (trace.jobs.empty()) area.words("None.", Face::Small);
    for (const auto& job : trace.jobs) {
        const Scope scope{touch, job.job};
        const Rect all = area.take(touch.mm(key_mm + 2.0F), touch.gap());
        if (!area.is_near(all)) continue;
        Rect row = all;
        const Rect visit = cut_right(row, touch.mm(28.0F), touch.gap());
        const Rect letter = cut_right(row, touch.mm(24.0F), touch.gap());
        const std::string words = job.customer.empty() ? job.place : job.customer + ", " + job.place;
        if (key(touch, "job", row,
                {.words = words,
                 .small = fmt::format("{} · {} · {} {}, {} can hurt", job.job, job.state, job.results,
                                      job.results == 1 ? "check" : "checks", job.severe),
                 .role = KeyRole::Row}))
            wanted = job.job;
        const bool shown = draft.letter_of == job.job;
        if (key(touch, "letter", letter,
                {.words = "Letter", .state = job.letter.empty() ? KeyState::Blocked : shown ? KeyState::Chosen : KeyState::Ready, .face = Face::Small,
                 .why = "This job has no letter: nothing of it stands on that."}))
            draft.letter_of = shown ? "" : job.job;
        if (job.revisit.empty()) {
            if (key(touch, "visit", visit, {.words = "Plan a visit", .face = Face::Small}))
                requests.emplace_back(desk::Intent{desk::OpenRevisit{job.job, trace.sentence}});
        } else if (key(touch, "visit", visit, {.words = job.revisit, .small = "planned", .face = Face::Small})) {
            wanted = job.revisit;
        }
        if (shown) area.words(job.letter, Face::Small);
    }
}

void put_on_record(Touch& touch, ScrollArea& area, const TraceView& trace, TraceDraft& draft, Requests& requests) {
    area.heading("On record");
    if (trace.doubted) {
        area.words(trace.kind == "instrument" ? "It is on record that this tool read wrongly; what stood on it is open again."
                                              : "It is on record that this batch is not to be trusted.");
        return;
    }
    const bool tool = trace.kind == "instrument";
    area.words(tool ? "Recorded, these readings are no evidence any more and their checks are open again. Nothing is erased."
                    : "Recorded, the batch is not to be fitted any more. Nothing is erased.",
               Face::Small);
    (void)field(touch, "why", area.take(touch.key_side(), touch.gap()), draft.why, "how it was found");
    if (tool) (void)field(touch, "as found", area.take(touch.key_side(), touch.gap()), draft.as_found, "its error as found, 35 kPa");
    const bool ready = !draft.why.empty() && !trace.rows.empty();
    if (!key(touch, "record", area.take(touch.strong_side(), touch.gap()),
             {.words = tool ? "Record the doubt in this tool" : "Record the doubt in this batch", .small = ready ? "" : "write how it was found first",
              .role = KeyRole::Primary, .state = ready ? KeyState::Ready : KeyState::Blocked,
              .why = trace.rows.empty() ? "Nothing stands on it: there is nothing to doubt." : "First write how it was found."}))
        return;
    if (tool) {
        const std::string from = draft.asked.from.empty() ? trace.rows.front().day : draft.asked.from;
        requests.emplace_back(desk::Intent{desk::DoubtInstrument{trace.subject, from, "", draft.as_found, draft.why, ""}});
    } else {
        requests.emplace_back(desk::Intent{desk::DoubtBatch{trace.subject, draft.why, ""}});
    }
    requests.emplace_back(draft.asked);
}

}  // namespace

void open_trace(TraceDraft& draft, AskTrace asked, Requests& requests) {
    draft.is_open = true;
    draft.asked = std::move(asked);
    draft.letter_of.clear();
    requests.emplace_back(draft.asked);
}

std::optional<std::string> trace_sheet(Touch& touch, const Rect& at, const World& world, TraceDraft& draft, Requests& requests) {
    const Scope scope{touch, "trace"};
    panel(touch, at);
    std::optional<std::string> wanted;
    Rect rest = at.inset(touch.mm(2.0F));
    const auto deeds = columns(cut_bottom(rest, touch.key_side(), touch.gap()), 2, touch.gap());
    const bool chosen = !draft.asked.instrument.empty() || !draft.asked.batch.empty();
    if (!chosen) {
        choose_subject(touch, rest, world, draft, requests);
    } else {
        ScrollArea area{touch, "answer", rest};
        area.heading(draft.asked.batch.empty() ? "Tool " + draft.asked.instrument : draft.asked.batch);
        if (answers(world, draft)) {
            area.words(world.trace->sentence);
            choose_day(touch, area, *world.trace, draft, requests);
            checks(area, *world.trace);
            houses(touch, area, *world.trace, draft, wanted, requests);
            put_on_record(touch, area, *world.trace, draft, requests);
        } else {
            area.words("It is being looked up.");
        }
    }
    if (key(touch, "close", deeds[0], {.words = "Close"})) draft = {};
    if (key(touch, "another", deeds[1], {.words = "Another", .state = chosen ? KeyState::Ready : KeyState::Blocked})) {
        draft = {};
        draft.is_open = true;
    }
    return wanted;
}

}  // namespace wm::screens
