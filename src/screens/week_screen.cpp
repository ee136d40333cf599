// Week audit screen.
#include "screens/week_screen.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <span>

#include "desk/week_to_do.hpp"
#include "screens/label.hpp"
#include "screens/marks.hpp"
#include "screens/screen_canvas.hpp"
#include "screens/week_charts.hpp"
#include "units/reading.hpp"

namespace wm::screens {
namespace {

using desk::ShareView;
using desk::WeekView;
using drawing::Ink;

// Rows with words beneath them are as high as these are, so that none can be left undrawn: of a firm with half a million jobs the
// first are shown.
constexpr std::size_t rows_shown = 40;

template <class Row>
std::span<const Row> first_of(const std::vector<Row>& rows) {
    return std::span{rows}.first(std::min(rows.size(), rows_shown));
}

void more_than_shown(ScrollArea& area, std::size_t rows) {
    if (rows > rows_shown) area.words(fmt::format("And {} more: narrow the week to a part, or see its letter.", rows - rows_shown));
}

std::string percent(double share) {
    return units::print_number(share * 100.0, 0) + " %";
}

/// The jobs behind a number take the place of what was shown beside it.
void show_jobs(WeekDraft& draft, std::string subject, std::string check, std::vector<std::string> jobs) {
    draft = {};
    draft.subject = std::move(subject);
    draft.check = std::move(check);
    draft.jobs = std::move(jobs);
}

/// The share as a mark and its interval as a bar, on a scale from none to all.
void share_bar(Touch& touch, const Rect& at, const ShareView& share) {
    ScreenCanvas canvas{touch, at};
    const drawing::Box sheet = canvas.sheet();
    const double y = sheet.height / 2.0;
    const auto x = [&](double part) {
        return 1.5 + (sheet.width - 3.0) * std::clamp(part, 0.0, 1.0);
    };
    canvas.line({x(0.0), y}, {x(1.0), y}, {Ink::Hairline, 0.25});
    for (const double end : {0.0, 0.5, 1.0}) {
        canvas.line({x(end), y - 1.2}, {x(end), y + 1.2}, {Ink::Hairline, 0.25});
    }
    canvas.fill_box({x(share.low), y - 1.1, std::max(0.4, x(share.high) - x(share.low)), 2.2}, 0.0,
                    Ink::Waiting);
    canvas.fill_box({x(share.share) - 0.5, y - 2.4, 1.0, 4.8}, 0.0, Ink::Text);
}

bool share_row(Touch& touch, const Rect& at, const ShareView& share) {
    const std::string& subject = share.words;
    const Pressed pressed = bare_key(touch, subject, at, {.words = subject, .role = KeyRole::Row});
    Rect inside = at.inset(touch.mm(1.5F));
    const Rect bar = cut_right(inside, inside.w * 0.34F, touch.mm(2.0F));
    Rect counts = cut_right(inside, inside.w * 0.42F, touch.mm(2.0F));
    const std::string path = touch.named(subject);
    draw_label(touch, path, inside, subject, {.face = Face::Body, .colour = touch.theme.text});
    draw_label(touch, path, cut_top(counts, counts.h * 0.5F),
               fmt::format("{} of {}", share.failed, share.tries),
               {.face = Face::Body, .across = Across::Right, .colour = touch.theme.text});
    draw_label(touch, path, counts,
               fmt::format("likely {} to {}", percent(share.low), percent(share.high)),
               {.face = Face::Small, .across = Across::Right, .colour = touch.theme.quiet});
    share_bar(touch, bar, share);
    return pressed.released;
}

void shares(Touch& touch, ScrollArea& area, std::string_view title,
            const std::vector<ShareView>& rows, WeekDraft& draft) {
    if (rows.empty()) return;
    const Scope scope{touch, title};
    area.heading(title);
    for (const ShareView& share : rows) {
        const Rect at = area.take(touch.row_side(), touch.gap());
        if (area.is_near(at) && share_row(touch, at, share)) {
            show_jobs(draft, share.words, share.check, share.jobs);
        }
    }
}

/// Straight quotation marks as printed ones: a line breaks behind a straight one, and a full stop would begin the next.
std::string with_printed_quotes(std::string_view words) {
    std::string shown;
    bool inside = false;
    for (const char c : words) {
        if (c != '"') {
            shown += c;
            continue;
        }
        shown += inside ? "\u201D" : "\u201C";
        inside = !inside;
    }
    return shown;
}

void severe_row(Touch& touch, ScrollArea& area, const WeekView& week, const desk::SevereView& one, std::optional<JobPlace>& wanted) {
    const Rect at = area.take(touch.mm(key_mm + 2.0F), touch.gap());
    if (!area.is_near(at)) return;
    // Of what waits from an earlier week the outcome comes first, then how long: the row says all of it.
    const auto outcome = measure::outcome_named(one.outcome.substr(0, one.outcome.find(',')));
    const std::string said = measure::outcome_named(one.outcome) ? "" : " · " + one.outcome;
    if (marked_row(touch, one.job + " " + one.check, at,
                   {.outcome = outcome.value_or(measure::Outcome::Open),
                    .words = one.title,
                    .small = desk::job_and_place(week, one.job) + said + (one.corrected ? " · put right" : " · NOT put right")}))
        wanted = JobPlace{one.job, one.check};
}

void severe(Touch& touch, ScrollArea& area, const WeekView& week, WeekDraft& draft, std::optional<JobPlace>& wanted) {
    area.heading("What could hurt someone");
    if (week.severe.empty()) area.words("Nothing of severity H failed.");
    const Scope scope{touch, "severe"};
    for (const desk::SevereView& one : week.severe)
        if (!one.corrected) severe_row(touch, area, week, one, wanted);
    // What was put right waits for nobody: one row until it is asked for, so that what is to be done is seen first.
    const auto put_right = std::ranges::count_if(week.severe, &desk::SevereView::corrected);
    if (put_right == 0) return;
    if (key(touch, "put right", area.take(touch.key_side(), touch.gap()),
            {.words = put_right == 1 ? "1 failed and was put right" : fmt::format("{} failed and were put right", put_right),
             .small = draft.shows_put_right ? "fold them up" : "show them one by one", .role = KeyRole::Row}))
        draft.shows_put_right = !draft.shows_put_right;
    if (!draft.shows_put_right) return;
    for (const desk::SevereView& one : week.severe)
        if (one.corrected) severe_row(touch, area, week, one, wanted);
}

/// What the jobs behind a sentence are shown for.
struct Meant {
    std::string subject, check;
};

/// A key as high as its words; `sentence` is what it is known by.
bool sentence_row(Touch& touch, ScrollArea& area, const std::string& name, const std::string& sentence, const std::string& words) {
    const float inner = area.width() - touch.mm(5.0F);
    const float height =
        std::max(touch.key_side(), prose_height(touch, inner, words, Face::Body) + touch.mm(4.0F));
    const Rect at = area.take(height, touch.gap());
    const bool pressed = bare_key(touch, name, at, {.words = sentence, .role = KeyRole::Row}).released;
    prose(touch, {at.x + touch.mm(2.5F), at.y + touch.mm(2.0F), inner, at.h}, words, Face::Body, touch.theme.text);
    return pressed;
}

/// A sentence to press, which shows its jobs, and what to do about it.
bool told_row(Touch& touch, ScrollArea& area, const std::string& name, const std::string& sentence,
              const std::string& what_to_do, const std::vector<std::string>& jobs, const Meant& meant, WeekDraft& draft) {
    const auto words = with_printed_quotes(what_to_do.empty() ? sentence : sentence + " To do: " + what_to_do);
    const bool pressed = sentence_row(touch, area, name, sentence, words);
    if (pressed) show_jobs(draft, meant.subject, meant.check, jobs);
    return pressed;
}

/// What a line stands on: a call by its sheet, one home by its job, all else by the jobs behind it.
void open_evidence(const desk::ToDo& one, const WeekView& week, WeekDraft& draft, std::optional<JobPlace>& wanted, Requests& requests) {
    if (one.kind == desk::ToDoKind::Call && one.jobs.size() == 1) {
        draft = {};
        open_complaints(draft.complaint, one.jobs.front(), requests);
        return;
    }
    if (one.kind == desk::ToDoKind::Severe && one.jobs.size() == 1) {
        wanted = JobPlace{one.jobs.front(), one.check};
        return;
    }
    show_jobs(draft, one.subject.empty() ? one.words : one.subject, one.check, one.jobs);
    if (one.kind != desk::ToDoKind::Finding) return;
    for (const desk::FindingView& finding : week.findings)
        if (finding.kind == one.evidence && finding.subject == one.subject && finding.check == one.check) draft.finding = finding;
}

/// One page for Monday: what is to be done, a line each.
void this_week(Touch& touch, ScrollArea& area, const WeekView& week, WeekDraft& draft, std::optional<JobPlace>& wanted, Requests& requests) {
    const auto to_do = desk::to_do_of(week);
    if (to_do.empty()) return;
    const Scope scope{touch, "to do"};
    area.heading("This week");
    int number = 0;
    for (const desk::ToDo& one : to_do) {
        const auto words = with_printed_quotes(one.words);
        if (one.kind == desk::ToDoKind::More) area.words(words);
        else if (sentence_row(touch, area, fmt::format("{} {}", ++number, desk::in_words(one.kind)), one.words, words))
            open_evidence(one, week, draft, wanted, requests);
    }
}

void findings(Touch& touch, ScrollArea& area, const WeekView& week, WeekDraft& draft) {
    const Scope scope{touch, "findings"};
    area.heading("Findings");
    if (week.findings.empty()) area.words("Nothing stands out beyond chance.");
    int number = 0;
    for (const desk::FindingView& finding : first_of(week.findings)) {
        const std::string under_way =
            finding.actions.empty() ? "" : fmt::format(" Under way: {}.", fmt::join(finding.actions, ", "));
        if (told_row(touch, area, fmt::format("{} {}", ++number, finding.subject), finding.sentence,
                     finding.what_to_do + under_way, finding.jobs, {finding.subject, finding.check}, draft))
            draft.finding = finding;
    }
    more_than_shown(area, week.findings.size());
    if (week.questions.empty()) return;
    area.heading("To ask, before any conclusion");
    for (const desk::WeekQuestionView& question : first_of(week.questions))
        (void)told_row(touch, area, fmt::format("{} {}", ++number, question.subject), question.sentence, question.what_to_do,
                 question.jobs, {question.subject, question.check}, draft);
    more_than_shown(area, week.questions.size());
}

void open_items(Touch& touch, ScrollArea& area, const WeekView& week,
                std::optional<JobPlace>& wanted) {
    if (week.open.empty()) return;
    const Scope scope{touch, "open"};
    area.heading("Still open, oldest first");
    for (const desk::OpenItemView& item : week.open) {
        const Rect at = area.take(touch.mm(key_mm + 2.0F), touch.gap());
        if (!area.is_near(at)) continue;
        const std::string words =
            fmt::format("{} days · {}: {}", item.age_days, item.title, item.what);
        const std::string small =
            desk::job_and_place(week, item.job) + " · " + (item.owner.empty() ? "nobody sees to it" : item.owner);
        if (key(touch, item.job + " " + item.check, at, {.words = words, .small = small, .role = KeyRole::Row})) {
            wanted = JobPlace{item.job, item.check};
        }
    }
}

void samples(Touch& touch, ScrollArea& area, const WeekView& week,
             std::optional<JobPlace>& wanted, Requests& requests) {
    if (week.samples.empty()) return;
    const Scope scope{touch, "samples"};
    area.heading("Roofs to look at next");
    for (const desk::SampleView& sample : first_of(week.samples)) {
        Rect row = area.take(touch.mm(key_mm + 2.0F), touch.gap());
        const Rect visit = cut_right(row, touch.mm(34.0F), touch.gap());
        if (key(touch, sample.job, row,
                {.words = desk::job_and_place(week, sample.job), .small = sample.why, .role = KeyRole::Row})) {
            wanted = JobPlace{sample.job, {}};
        }
        const Scope of_sample{touch, sample.job};
        if (sample.revisit.empty()) {
            if (key(touch, "visit", visit, {.words = "Plan a visit", .face = Face::Small}))
                requests.emplace_back(desk::Intent{desk::OpenRevisit{sample.job, sample.why}});
        } else if (key(touch, "visit", visit, {.words = sample.revisit, .small = "planned", .face = Face::Small})) {
            wanted = JobPlace{sample.revisit, {}};
        }
        if (!sample.narrows.empty()) area.words(sample.narrows, Face::Small, touch.theme.quiet);
    }
    more_than_shown(area, week.samples.size());
}

void actions(Touch& touch, ScrollArea& area, const WeekView& week, Requests& requests) {
    if (week.actions.empty()) return;
    const Scope scope{touch, "actions"};
    area.heading("Causes being removed, oldest first");
    for (const desk::ActionView& action : week.actions) action_row(touch, area, action, requests);
}

void complaints(Touch& touch, ScrollArea& area, const WeekView& week, WeekDraft& draft, Requests& requests) {
    if (week.complaints.empty()) return;
    const Scope scope{touch, "calls"};
    area.heading("Customers called");
    for (const desk::WeekComplaintView& row : first_of(week.complaints)) {
        const std::string small = fmt::format("{} · {}{}{}", row.symptom_words, row.told_on, row.air.empty() ? "" : " · at " + row.air,
                                        row.is_open ? fmt::format(" · open for {} days", row.age_days) : " · closed");
        if (key(touch, row.complaint, area.take(touch.mm(key_mm + 2.0F), touch.gap()),
                {.words = desk::job_and_place(week, row.job), .small = small, .role = KeyRole::Row})) {
            draft = {};
            open_complaints(draft.complaint, row.job, requests);
        }
        for (const auto& gap : row.unproved) area.words(fmt::format("Could have caught it: {}: {}", gap.title, gap.what), Face::Small);
    }
    more_than_shown(area, week.complaints.size());
}

void jobs_of_subject(Touch& touch, const Rect& at, const WeekView& week, WeekDraft& draft,
                     std::optional<JobPlace>& wanted, Requests& requests) {
    const Scope scope{touch, "jobs of"};
    panel(touch, at);
    Rect rest = at.inset(touch.mm(2.0F));
    const bool closed = key(touch, "close", cut_bottom(rest, touch.key_side(), touch.gap()), {.words = "Close"});
    if (closed || touch.typing.take(Stroke::Escape)) {
        draft = {};
        return;
    }
    if (draft.finding && draft.finding->kind == "instrument drift" &&
        key(touch, "trace", cut_bottom(rest, touch.key_side(), touch.gap()), {.words = "What stands on this tool"})) {
        open_trace(draft.trace, {.instrument = draft.finding->subject, .from = "", .until = "", .batch = ""}, requests);
        return;
    }
    if (draft.finding && draft.finding->kind == "batch and check" &&
        key(touch, "trace", cut_bottom(rest, touch.key_side(), touch.gap()), {.words = "Where this batch is"})) {
        open_trace(draft.trace, {.instrument = "", .from = "", .until = "", .batch = draft.finding->subject}, requests);
        return;
    }
    if (draft.finding && key(touch, "act", cut_bottom(rest, touch.key_side(), touch.gap()),
                             {.words = "Remove the cause", .role = KeyRole::Primary})) {
        draft.action = action_for(*draft.finding, week.week);
        return;
    }
    if (!draft.week.empty() && draft.week != week.week &&
        key(touch, "week", cut_bottom(rest, touch.key_side(), touch.gap()), {.words = "Open " + draft.week})) {
        requests.emplace_back(AskWeek{draft.week, week.filter});
        draft = {};
        return;
    }
    ScrollArea area{touch, "list", rest};
    if (draft.finding) finding_chart(touch, area, week, *draft.finding);
    area.heading("Jobs behind: " + draft.subject);
    if (draft.jobs.empty()) area.words("None.");
    for (const std::string& job : draft.jobs) {
        const Rect row = area.take(touch.row_side(), touch.gap());
        if (!area.is_near(row)) continue;
        if (key(touch, job, row,
                {.words = desk::job_and_place(week, job), .role = KeyRole::Row})) {
            wanted = JobPlace{job, draft.check};
        }
    }
}

void week_keys(Touch& touch, const Rect& at, const WeekView& week, WeekDraft& draft, Requests& requests) {
    Rect middle = at;
    const Rect before = cut_left(middle, touch.mm(36.0F), touch.gap());
    const Rect after = cut_right(middle, touch.mm(36.0F), touch.gap());
    const auto here = std::find(week.weeks.begin(), week.weeks.end(), week.week);
    const bool has_before = here != week.weeks.end() && here != week.weeks.begin();
    const bool has_after = here != week.weeks.end() && here + 1 != week.weeks.end();
    const auto state = [](bool there) { return there ? KeyState::Ready : KeyState::Blocked; };
    if (key(touch, "earlier", before, {.words = "◀ Earlier", .state = state(has_before)})) {
        requests.emplace_back(AskWeek{*(here - 1), week.filter});
    }
    if (key(touch, "later", after, {.words = "Later ▶", .state = state(has_after)})) {
        requests.emplace_back(AskWeek{*(here + 1), week.filter});
    }
    const auto count = [](int number, const char* one, const char* many) { return fmt::format("{} {}", number, number == 1 ? one : many); };
    if (key(touch, "counted", middle,
            {.words = fmt::format("Week {}: {}", week.week, count(week.jobs, "job", "jobs")),
             .small = fmt::format("{}, {} could not tell at first", count(week.results, "result", "results"), week.inconclusive), .role = KeyRole::Row}))
        show_jobs(draft, "Week " + week.week, "", week.looked_at);
}

/// What part is looked at, and where to look from a tool or a batch.
void part_keys(Touch& touch, const Rect& at, const WeekView& week, WeekDraft& draft) {
    const auto cells = columns(at, 2, touch.gap());
    const std::string part = filter_in_words(week);
    if (key(touch, "part", cells[0],
            {.words = part.empty() ? "All jobs" : "Only " + part, .small = "look at a part", .state = draft.filter.is_open ? KeyState::Chosen : KeyState::Ready,
             .face = Face::Small})) {
        const bool opens = !draft.filter.is_open;
        draft = {};
        draft.filter = {opens, week.filter};
    }
    if (key(touch, "from tool", cells[1],
            {.words = "From a tool or batch", .small = "what stands on it", .state = draft.trace.is_open ? KeyState::Chosen : KeyState::Ready,
             .face = Face::Small})) {
        const bool opens = !draft.trace.is_open;
        draft = {};
        draft.trace.is_open = opens;
    }
}

void severe_column(Touch& touch, const Rect& at, const WeekView& week, WeekDraft& draft,
                   std::optional<JobPlace>& wanted, Requests& requests) {
    ScrollArea area{touch, "first", at};
    this_week(touch, area, week, draft, wanted, requests);
    severe(touch, area, week, draft, wanted);
    for (const std::string& sentence : week.damaged)
        area.words("Not counted, it cannot be read: " + sentence, Face::Bold, touch.theme.warn_text);
    findings(touch, area, week, draft);
    complaints(touch, area, week, draft, requests);
    actions(touch, area, week, requests);
    samples(touch, area, week, wanted, requests);
    open_items(touch, area, week, wanted);
}

void ageing(Touch& touch, ScrollArea& area, const WeekView& week, WeekDraft& draft) {
    if (week.ageing.empty()) return;
    const Scope scope{touch, "ageing"};
    area.heading("Put off, by crew");
    for (const desk::AgeingView& row : week.ageing) {
        const std::string small = row.open == 0 ? fmt::format("{} put off, none open", row.put_off)
                                                : fmt::format("{} put off, {} open, {} over 14 days, oldest {} days", row.put_off, row.open,
                                                              row.forgotten, row.oldest_days);
        if (key(touch, row.crew, area.take(touch.row_side(), touch.gap()), {.words = row.crew, .small = small, .role = KeyRole::Row}))
            show_jobs(draft, row.crew + ", put off", "", row.jobs);
    }
}

void gauges(Touch& touch, ScrollArea& area, const WeekView& week, WeekDraft& draft, Requests& requests) {
    if (week.gauges.empty()) return;
    const Scope scope{touch, "gauges"};
    area.heading("Gauges beside the others of their streets");
    for (const desk::GaugeView& row : week.gauges) {
        const std::string small = fmt::format("{} readings, lately {}{} kPa{}", row.readings, row.recent_kpa < 0.0 ? "" : "+",
                                              units::print_number(row.recent_kpa, 1),
                                              row.signal_since.empty() ? "" : ", beyond chance since " + row.signal_since);
        if (key(touch, row.instrument, area.take(touch.row_side(), touch.gap()), {.words = row.instrument, .small = small, .role = KeyRole::Row})) {
            draft = {};
            open_trace(draft.trace, {.instrument = row.instrument, .from = "", .until = "", .batch = ""}, requests);
        }
    }
}

void health(Touch& touch, ScrollArea& area, const WeekView& week, WeekDraft& draft) {
    if (week.health.empty()) return;
    const Scope scope{touch, "health"};
    area.heading("Checks to look at");
    for (const desk::HealthView& row : week.health)
        (void)told_row(touch, area, row.kind + " " + row.check, row.sentence, row.proposal, row.jobs, {row.title, row.check}, draft);
}

void share_column(Touch& touch, const Rect& at, const WeekView& week, WeekDraft& draft, Requests& requests) {
    ScrollArea area{touch, "shares", at};
    if (auto pressed = week_charts(touch, area, week)) {
        show_jobs(draft, pressed->subject, pressed->check, pressed->jobs);
        draft.week = pressed->week;
    }
    shares(touch, area, "Checks that failed", week.failed, draft);
    shares(touch, area, "By crew", week.by_crew, draft);
    shares(touch, area, "By batch of parts", week.by_batch, draft);
    area.words(
        "The mark is the share that failed at the first try; the bar is where the true share "
        "likely lies (95 %). Left end none, right end all.",
        Face::Small, touch.theme.quiet);
    ageing(touch, area, week, draft);
    gauges(touch, area, week, draft, requests);
    health(touch, area, week, draft);
}

}  // namespace

std::optional<JobPlace> week_screen(Touch& touch, const Rect& at, const World& world,
                                    WeekDraft& draft, Requests& requests) {
    const Scope scope{touch, "week"};
    if (!world.week) {
        prose(touch, at,
              world.no_week ? "No job is recorded yet that counts; practice jobs do not. The audit begins with the first one."
                            : "The audit of the week is being counted.",
              Face::Body, touch.theme.text);
        return std::nullopt;
    }
    const WeekView& week = *world.week;
    std::optional<JobPlace> wanted;
    Rect rest = at;
    week_keys(touch, cut_top(rest, touch.key_side(), touch.gap()), week, draft, requests);
    part_keys(touch, cut_top(rest, touch.key_side(), touch.gap()), week, draft);
    const bool side_by_side = at.w >= touch.mm(240.0F);
    // On a low panel what was opened has the room of both: half of it would show half a row.
    const bool opened = draft.action.is_open || draft.filter.is_open || draft.complaint.is_open || draft.trace.is_open || !draft.subject.empty();
    const bool alone = opened && !side_by_side && at.h < touch.mm(130.0F);
    Rect second = side_by_side ? cut_right(rest, rest.w * 0.5F, touch.mm(5.0F))
                               : cut_bottom(rest, alone ? rest.h : rest.h * 0.5F, touch.mm(4.0F));
    if (!alone) severe_column(touch, rest, week, draft, wanted, requests);
    if (draft.action.is_open) {
        action_sheet(touch, second, world, draft.action, requests);
    } else if (draft.filter.is_open) {
        filter_sheet(touch, second, week, draft.filter, requests);
    } else if (draft.complaint.is_open) {
        if (const auto job = complaint_sheet(touch, second, world, draft.complaint, requests)) wanted = JobPlace{*job, {}};
    } else if (draft.trace.is_open) {
        if (const auto job = trace_sheet(touch, second, world, draft.trace, requests)) wanted = JobPlace{*job, {}};
    } else if (!draft.jobs.empty() || !draft.subject.empty()) {
        jobs_of_subject(touch, second, week, draft, wanted, requests);
    } else {
        share_column(touch, second, week, draft, requests);
    }
    return wanted;
}

}  // namespace wm::screens
