#include "desk/week_to_do.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <utility>

#include "audit/finding_words.hpp"
#include "audit/withdrawn.hpp"
#include "desk/moment.hpp"
#include "desk/week_questions.hpp"
#include "record/codec.hpp"

namespace wm::desk {

namespace {

constexpr int forgotten_after_days = 14;

std::string plural(std::size_t number, const char* one, const char* many) { return fmt::format("{} {}", number, number == 1 ? one : many); }

std::string title_in(const WeekView& week, const std::string& check) {
    for (const auto& choice : week.choices.checks)
        if (choice.name == check) return choice.words;
    return check;
}

std::string homes_in_words(const WeekView& week, const std::vector<std::string>& jobs) {
    return jobs.size() == 1 ? job_and_place(week, jobs.front()) : fmt::format("{} homes", jobs.size());
}

std::string counted(const FindingView& finding) {
    return fmt::format("{} of {} failed, others {} of {}", finding.failed, finding.tries, finding.others_failed, finding.others_tries);
}

/// The first sentence of the advice, which names what it is about; a stop within that name ends nothing.
std::string first_sentence(const FindingView& finding) {
    const auto& advice = finding.what_to_do;
    const auto named = advice.find(finding.subject);
    const auto stop = advice.find(". ", named == std::string::npos ? 0 : named + finding.subject.size());
    return stop == std::string::npos ? advice : advice.substr(0, stop + 1);
}

/// Empty where nothing is left to do.
std::string order_for(const WeekView& week, const FindingView& finding) {
    const auto title = title_in(week, finding.check);
    if (finding.kind == "batch and check" || finding.kind == "instrument drift") {
        if (!audit::is_order(finding.what_to_do)) return "";
        return first_sentence(finding) + (finding.kind == "instrument drift" ? std::string{" Its readings drift."} : fmt::format(" \"{}\": {}.", title, counted(finding)));
    }
    if (finding.kind == "crew and check") return fmt::format("Hear {}: \"{}\", {}.", finding.subject, title, counted(finding));
    if (finding.kind == "crew, check and household")
        return fmt::format("Hear {}, and measure again where people are vulnerable: \"{}\", {}.", finding.subject, title, counted(finding));
    if (finding.kind == "crew and deferrals") return fmt::format("Go through what {} put off: {} of {} open after 14 days.", finding.subject, finding.failed, finding.tries);
    if (finding.kind == "complaints and check") return fmt::format("Look at \"{}\" where it was left out, before more homes call.", title);
    return fmt::format("Ask all crews what changed: \"{}\", lately {} of {} failed, before {} of {}.", title, finding.failed, finding.tries, finding.others_failed,
                       finding.others_tries);
}

/// How far the removal of a cause has come.
enum class Removal { NotBegun, UnderWay, NoProof, Worse };

Removal removal_by(const ActionView& action) {
    const EffectView* last = nullptr;
    bool is_due = false;
    for (const auto& effect : action.effects) {
        if (effect.recorded) last = &effect;
        else is_due = is_due || effect.is_due;
    }
    if (last == nullptr || last->verdict == record::in_words(record::EffectVerdict::Helped)) return Removal::UnderWay;
    if (last->verdict == record::in_words(record::EffectVerdict::Worse)) return Removal::Worse;
    // The next count is asked for by itself, and may prove it.
    return is_due ? Removal::UnderWay : Removal::NoProof;
}

Removal removal_of(const WeekView& week, const FindingView& finding) {
    if (finding.actions.empty()) return Removal::NotBegun;
    auto worst = Removal::NoProof;
    for (const auto& number : finding.actions) {
        const auto action = std::ranges::find(week.actions, number, &ActionView::action);
        const auto one = action == week.actions.end() ? Removal::UnderWay : removal_by(*action);
        if (one == Removal::UnderWay) return one;
        if (one == Removal::Worse) worst = one;
    }
    return worst;
}

void add_finding(std::vector<ToDo>& lines, const WeekView& week, const FindingView& finding, Removal removal) {
    auto words = order_for(week, finding);
    if (words.empty()) return;
    if (finding.sentence.find(audit::look_first) != std::string::npos) words += fmt::format(" Weak: {}.", audit::look_first);
    const auto actions = fmt::format("{}", fmt::join(finding.actions, ", "));
    if (removal == Removal::Worse) words = fmt::format("It got worse after {}: decide anew. {}", actions, words);
    if (removal == Removal::NoProof) words = fmt::format("No proof that {} helped: decide anew. {}", actions, words);
    lines.push_back({.kind = ToDoKind::Finding, .words = std::move(words), .subject = finding.subject, .check = finding.check, .jobs = finding.jobs,
                     .evidence = finding.kind});
}

void add_findings(std::vector<ToDo>& lines, const WeekView& week) {
    for (const auto& finding : week.findings)
        if (const auto removal = removal_of(week, finding); removal == Removal::Worse) add_finding(lines, week, finding, removal);
    for (const auto& finding : week.findings)
        if (const auto removal = removal_of(week, finding); removal == Removal::NotBegun || removal == Removal::NoProof) add_finding(lines, week, finding, removal);
}

/// One line a check, and one for those of which the evidence was withdrawn: the homes stand below, one by one.
void add_severe(std::vector<ToDo>& lines, const WeekView& week) {
    struct Errand {
        std::string check, title;
        bool is_withdrawn = false;
        std::vector<std::string> jobs;
    };
    std::vector<Errand> errands;
    for (const auto& row : week.severe) {
        if (row.corrected) continue;
        const bool withdrawn = audit::is_withdrawn(row.outcome);
        auto known = std::ranges::find_if(errands, [&](const Errand& one) { return one.title == row.title && one.is_withdrawn == withdrawn; });
        if (known == errands.end()) known = errands.insert(errands.end(), {row.check, row.title, withdrawn, {}});
        known->jobs.push_back(row.job);
    }
    // What failed before what is only unproved again.
    std::ranges::stable_partition(errands, [](const Errand& one) { return !one.is_withdrawn; });
    for (auto& [check, title, withdrawn, jobs] : errands) {
        const auto homes = homes_in_words(week, jobs);
        auto words = withdrawn ? fmt::format("Measure again at {}: \"{}\" can hurt someone, and its evidence was withdrawn.", homes, title)
                               : fmt::format("Go to {}: \"{}\" can hurt someone.", homes, title);
        lines.push_back({.kind = ToDoKind::Severe, .words = std::move(words), .subject = title, .check = check, .jobs = std::move(jobs)});
    }
}

void add_actions(std::vector<ToDo>& lines, const WeekView& week) {
    const auto last_day = day_after(monday_of(week.week).value_or(""), 6).value_or("");
    for (const auto& action : week.actions) {
        if (action.is_closed) continue;
        ToDo line{.kind = ToDoKind::Action, .words = "", .subject = action.subject, .check = action.check, .jobs = {}, .evidence = action.action};
        const bool effect_due = std::any_of(action.effects.begin(), action.effects.end(), [](const EffectView& one) { return one.is_due && !one.recorded; });
        if (effect_due) line.words = fmt::format("See whether {} helped: its effect can be counted.", action.action);
        else if (action.done_on.empty() && action.due <= last_day)
            line.words = fmt::format("Ask {} about {}: due {}, not carried out.", action.owner, action.action, action.due);
        if (line.words.empty()) continue;
        for (const auto& finding : week.findings)
            if (finding.kind == action.finding && finding.subject == action.subject && finding.check == action.check) line.jobs = finding.jobs;
        lines.push_back(std::move(line));
    }
}

bool is_urgent(const WeekComplaintView& row) {
    const auto& urgent = urgent_symptoms();
    return std::find(urgent.begin(), urgent.end(), row.symptom) != urgent.end();
}

/// Calls that are open and of one kind, the longest wait first.
std::vector<const WeekComplaintView*> waiting(const WeekView& week, const auto& is_meant) {
    std::vector<const WeekComplaintView*> calls;
    for (const auto& row : week.complaints)
        if (row.is_open && is_meant(row)) calls.push_back(&row);
    std::ranges::stable_sort(calls, [](const WeekComplaintView* a, const WeekComplaintView* b) { return a->age_days > b->age_days; });
    return calls;
}

void add_calls(std::vector<ToDo>& lines, const std::vector<const WeekComplaintView*>& calls, std::string words) {
    const auto& oldest = *calls.front();
    ToDo line{.kind = ToDoKind::Call, .words = std::move(words), .subject = oldest.symptom_words, .check = "", .jobs = {}, .evidence = oldest.complaint};
    for (const auto* call : calls)
        if (std::ranges::find(line.jobs, call->job) == line.jobs.end()) line.jobs.push_back(call->job);
    lines.push_back(std::move(line));
}

void add_urgent_calls(std::vector<ToDo>& lines, const WeekView& week) {
    for (const auto symptom : urgent_symptoms()) {
        const auto calls = waiting(week, [&](const WeekComplaintView& row) { return row.symptom == symptom; });
        if (calls.empty()) continue;
        const auto& oldest = *calls.front();
        const auto& told = oldest.symptom_words.empty() ? oldest.symptom : oldest.symptom_words;
        const auto place = job_and_place(week, oldest.job);
        add_calls(lines, calls,
                  calls.size() == 1 ? fmt::format("Go to {}: \"{}\", told {} ago.", place, told, plural(static_cast<std::size_t>(oldest.age_days), "day", "days"))
                                    : fmt::format("See to {} calls: \"{}\". {} has waited {}.", calls.size(), told, place,
                                                  plural(static_cast<std::size_t>(oldest.age_days), "day", "days")));
    }
}

void add_other_calls(std::vector<ToDo>& lines, const WeekView& week) {
    const auto calls = waiting(week, [](const WeekComplaintView& row) { return !is_urgent(row); });
    if (calls.empty()) return;
    add_calls(lines, calls, fmt::format("Call back {}: {} has waited {} days.", plural(calls.size(), "customer", "customers"),
                                        job_and_place(week, calls.front()->job), calls.front()->age_days));
}

void add_questions(std::vector<ToDo>& lines, const WeekView& week, bool about_frost) {
    for (const auto& question : week.questions)
        if (is_about_frost(question) == about_frost)
            lines.push_back({.kind = ToDoKind::Question, .words = in_short(question, title_in(week, question.check)), .subject = question.subject,
                             .check = question.check, .jobs = question.jobs, .evidence = question.kind});
}

void add_forgotten(std::vector<ToDo>& lines, const WeekView& week) {
    ToDo line{.kind = ToDoKind::Open, .words = "", .subject = "open for over 14 days"};
    std::size_t late = 0;
    for (const auto& row : week.open) {
        if (row.age_days <= forgotten_after_days) continue;
        ++late;
        if (std::ranges::find(line.jobs, row.job) == line.jobs.end()) line.jobs.push_back(row.job);
    }
    if (late == 0) return;
    line.words = fmt::format("Settle {} open for over 14 days.", plural(late, "check", "checks"));
    lines.push_back(std::move(line));
}

void add_visits(std::vector<ToDo>& lines, const WeekView& week) {
    ToDo line{.kind = ToDoKind::Visits, .words = "", .subject = "visits to plan"};
    for (const auto& row : week.samples)
        if (row.revisit.empty()) line.jobs.push_back(row.job);
    if (line.jobs.empty()) return;
    line.words = fmt::format("Plan {}.", plural(line.jobs.size(), "visit", "visits"));
    lines.push_back(std::move(line));
}

}  // namespace

std::string_view in_words(ToDoKind kind) {
    switch (kind) {
        case ToDoKind::Call: return "call";
        case ToDoKind::Severe: return "severe";
        case ToDoKind::Question: return "question";
        case ToDoKind::Finding: return "finding";
        case ToDoKind::Action: return "action";
        case ToDoKind::Open: return "open";
        case ToDoKind::Visits: return "visits";
        case ToDoKind::More: return "more";
    }
    return "";
}

const std::vector<std::string_view>& urgent_symptoms() {
    static const std::vector<std::string_view> urgent = {"burst", "electric", "runs-outside", "too-hot", "moved", "wet", "fluid"};
    return urgent;
}

std::vector<ToDo> to_do_of(const WeekView& week, std::size_t most) {
    std::vector<ToDo> lines;
    add_urgent_calls(lines, week);
    add_severe(lines, week);
    add_questions(lines, week, true);
    add_findings(lines, week);
    add_actions(lines, week);
    add_other_calls(lines, week);
    add_questions(lines, week, false);
    add_forgotten(lines, week);
    add_visits(lines, week);
    if (lines.size() <= most || most == 0) return lines;
    const auto left_out = lines.size() - most + 1;
    lines.resize(most - 1);
    lines.push_back({.kind = ToDoKind::More, .words = fmt::format("And {} more below.", left_out)});
    return lines;
}

}  // namespace wm::desk
