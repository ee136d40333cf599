#include "desk/week_to_do.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "desk/moment.hpp"

namespace wm::desk {

namespace {

constexpr int forgotten_after_days = 14;

std::string plural(std::size_t number, const char* one, const char* many) { return fmt::format("{} {}", number, number == 1 ? one : many); }

std::string title_in(const WeekView& week, const std::string& check) {
    for (const auto& choice : week.choices.checks)
        if (choice.name == check) return choice.words;
    return check;
}

std::string counted(const FindingView& finding) {
    return fmt::format("{} of {} failed, others {} of {}", finding.failed, finding.tries, finding.others_failed, finding.others_tries);
}

std::string line_for(const WeekView& week, const FindingView& finding) {
    const auto title = title_in(week, finding.check);
    if (finding.kind == "crew and check") return fmt::format("Hear {}: \"{}\", {}.", finding.subject, title, counted(finding));
    if (finding.kind == "crew, check and household")
        return fmt::format("Hear {}, and measure again where people are vulnerable: \"{}\", {}.", finding.subject, title, counted(finding));
    if (finding.kind == "batch and check") return fmt::format("Hold back {}: \"{}\", {}.", finding.subject, title, counted(finding));
    if (finding.kind == "instrument drift") return fmt::format("Hold {} beside a second gauge today: it reads off.", finding.subject);
    if (finding.kind == "crew and deferrals") return fmt::format("Go through what {} put off: {} of {} open after 14 days.", finding.subject, finding.failed, finding.tries);
    if (finding.kind == "complaints and check") return fmt::format("Look at \"{}\" where it was left out, before more homes call.", title);
    return fmt::format("Ask all crews what changed: \"{}\", lately {} of {} failed, before {} of {}.", title, finding.failed, finding.tries, finding.others_failed,
                       finding.others_tries);
}

/// One line a check: the homes stand below, one by one.
void add_severe(std::vector<std::string>& lines, const WeekView& week) {
    std::vector<std::pair<std::string, std::vector<std::string>>> checks;
    for (const auto& row : week.severe) {
        if (row.corrected) continue;
        auto known = std::ranges::find(checks, row.title, &std::pair<std::string, std::vector<std::string>>::first);
        if (known == checks.end()) known = checks.insert(checks.end(), {row.title, {}});
        known->second.push_back(row.job);
    }
    for (const auto& [title, jobs] : checks)
        lines.push_back(jobs.size() == 1 ? fmt::format("Go to {}: \"{}\" can hurt someone.", job_and_place(week, jobs.front()), title)
                                         : fmt::format("Go to {} homes: \"{}\" can hurt someone.", jobs.size(), title));
}

void add_actions(std::vector<std::string>& lines, const WeekView& week) {
    const auto last_day = day_after(monday_of(week.week).value_or(""), 6).value_or("");
    for (const auto& action : week.actions) {
        const bool effect_due = std::any_of(action.effects.begin(), action.effects.end(), [](const EffectView& one) { return one.is_due && !one.recorded; });
        if (!action.is_closed && effect_due) lines.push_back(fmt::format("See whether {} helped: its effect can be counted.", action.action));
        else if (!action.is_closed && action.done_on.empty() && action.due <= last_day)
            lines.push_back(fmt::format("Ask {} about {}: due {}, not carried out.", action.owner, action.action, action.due));
    }
}

void add_complaints(std::vector<std::string>& lines, const WeekView& week) {
    const auto open = static_cast<std::size_t>(std::ranges::count_if(week.complaints, &WeekComplaintView::is_open));
    if (open == 0) return;
    const auto oldest = std::max_element(week.complaints.begin(), week.complaints.end(), [](const WeekComplaintView& a, const WeekComplaintView& b) {
        return (a.is_open ? a.age_days : -1) < (b.is_open ? b.age_days : -1);
    });
    lines.push_back(fmt::format("Call back {}: {} has waited {} days.", plural(open, "customer", "customers"), job_and_place(week, oldest->job), oldest->age_days));
}

void add_forgotten(std::vector<std::string>& lines, const WeekView& week) {
    const auto late = static_cast<std::size_t>(std::ranges::count_if(week.open, [](const OpenItemView& row) { return row.age_days > forgotten_after_days; }));
    if (late == 0) return;
    lines.push_back(fmt::format("Settle {} open for over 14 days.", plural(late, "check", "checks")));
}

}  // namespace

std::vector<std::string> to_do_of(const WeekView& week, std::size_t most) {
    std::vector<std::string> lines;
    add_severe(lines, week);
    for (const auto& finding : week.findings)
        if (finding.actions.empty()) lines.push_back(line_for(week, finding));
    add_actions(lines, week);
    add_complaints(lines, week);
    if (!week.questions.empty()) lines.push_back(fmt::format("Ask {} before concluding.", plural(week.questions.size(), "question", "questions")));
    add_forgotten(lines, week);
    const auto unplanned = static_cast<std::size_t>(std::ranges::count_if(week.samples, [](const SampleView& row) { return row.revisit.empty(); }));
    if (unplanned > 0) lines.push_back(fmt::format("Plan {}.", plural(unplanned, "visit", "visits")));
    if (lines.size() <= most || most == 0) return lines;
    const auto left_out = lines.size() - most + 1;
    lines.resize(most - 1);
    lines.push_back(fmt::format("And {} more below.", left_out));
    return lines;
}

}  // namespace wm::desk
