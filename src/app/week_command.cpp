// `week`: the audit of one week.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "app/keep_looked.hpp"
#include "app/office_command.hpp"
#include "desk/week.hpp"
#include "desk/week_to_do.hpp"

namespace wm::app {

namespace {

std::string share_line(const desk::ShareView& row) {
    // One of one is no hundred per cent: of few only the interval is told.
    constexpr int enough = 8;
    const auto share = row.tries < enough ? std::string{"few"} : fmt::format("{:.1f} %", 100.0 * row.share);
    return fmt::format("  {:<44} {:>3} of {:<4} {:>7}  (95 %: {:.1f} to {:.1f})\n", row.words, row.failed, row.tries, share, 100.0 * row.low,
                       100.0 * row.high);
}

std::string in_text(const desk::WeekView& week, const std::string& narrowed) {
    std::string text = fmt::format("Week {}: {} jobs, {} results, {} of them inconclusive at the first try\n", week.week,
                                   week.jobs, week.results, week.inconclusive);
    if (!narrowed.empty()) text += "Only " + narrowed + "; findings are compared with all jobs\n";
    for (const auto& sentence : week.damaged) text += "  NOT COUNTED, it cannot be read: " + sentence + "\n";
    const auto to_do = desk::to_do_of(week);
    if (!to_do.empty()) text += "\nThis week\n";
    for (const auto& line : to_do) text += "  " + line.words + "\n";
    text += "\nCan hurt someone\n";
    for (const auto& row : week.severe)
        text += fmt::format("  {}: {}: {}{}\n", desk::job_and_place(week, row.job), row.title, row.outcome, row.corrected ? ", put right" : "");
    if (week.severe.empty()) text += "  none\n";
    text += "\nStands out\n";
    for (const auto& row : week.findings) text += "  " + row.sentence + "\n    Do: " + row.what_to_do + "\n";
    if (week.findings.empty()) text += "  nothing that chance would not do\n";
    if (!week.questions.empty()) text += "\nTo ask (an answer comes before any conclusion)\n";
    for (const auto& row : week.questions) text += "  " + row.sentence + "\n    Do: " + row.what_to_do + "\n";
    if (!week.actions.empty()) text += "\nCauses being removed, oldest first\n";
    for (const auto& row : week.actions) {
        text += fmt::format("  {}: {}, {} days: {}{}{}: {}; {}, due {}\n", row.action, row.state, row.age_days,
                            row.title.empty() ? row.finding : row.title, row.subject.empty() ? "" : " of ", row.subject, row.remedy,
                            row.owner, row.due);
        for (const auto& effect : row.effects)
            if (effect.is_due) text += fmt::format("    after {} days: {}. {}\n", effect.after_days, effect.verdict, effect.sentence);
    }
    if (!week.complaints.empty()) text += "\nCustomers called\n";
    for (const auto& row : week.complaints) {
        text += fmt::format("  {}: {}{}, {}{}\n", desk::job_and_place(week, row.job), row.symptom_words, row.air.empty() ? "" : " at " + row.air,
                            row.is_open ? fmt::format("open for {} days", row.age_days) : "closed", row.survey.empty() ? "" : "; surveyed in " + row.survey);
        for (const auto& gap : row.unproved) text += fmt::format("    could have caught it: {}: {} in {}\n", gap.title, gap.what, gap.job);
    }
    text += "\nFailed at the first try\n";
    for (const auto& row : week.failed) text += share_line(row);
    text += "\nBy crew\n";
    for (const auto& row : week.by_crew) text += share_line(row);
    const bool of_batches = std::any_of(week.by_batch.begin(), week.by_batch.end(), [](const desk::ShareView& row) { return row.failed > 0; });
    if (of_batches) text += "\nBy batch\n";
    for (const auto& row : week.by_batch)
        if (row.failed > 0) text += share_line(row);
    text += "\nOpen\n";
    for (const auto& row : week.open)
        text += fmt::format("  {}: {}: {}, {} days, {}\n", desk::job_and_place(week, row.job), row.title, row.what, row.age_days, row.owner);
    if (week.open.empty()) text += "  nothing\n";
    if (!week.ageing.empty()) text += "\nPut off by crew\n";
    for (const auto& row : week.ageing)
        text += fmt::format("  {:<24} {:>3} put off, {} open, {} of them over 14 days, oldest {} days\n", row.crew,
                            row.put_off, row.open, row.forgotten, row.oldest_days);
    text += "\nLook again at\n";
    for (const auto& row : week.samples) {
        text += fmt::format("  {}: {}{}{}\n", desk::job_and_place(week, row.job), row.why, row.revisit.empty() ? "" : "; planned: ",
                            row.revisit);
        if (!row.narrows.empty()) text += "    " + row.narrows + "\n";
    }
    if (!week.rules_left_out.empty())
        text += fmt::format("  {} more rules for visits lack a fact each; --json names them.\n", week.rules_left_out.size());
    return text;
}

std::string health_in_text(const desk::WeekView& week) {
    std::string text = fmt::format("Checks that tell too little, or cannot be answered well; 26 weeks up to {}\n", week.week);
    for (const auto& row : week.health) text += fmt::format("  {}: {}\n    Propose: {}\n", row.kind, row.sentence, row.proposal);
    if (week.health.empty()) text += "  none\n";
    return text;
}

Result<desk::WeekFilterView> filter_of(const Arguments& arguments) {
    desk::WeekFilterView filter{.crew = arguments.value("crew"), .check = arguments.value("check"), .roof = arguments.value("roof"),
                                .kind = arguments.value("kind"), .batch = arguments.value("batch"),
                                .instrument = arguments.value("instrument"), .street = arguments.value("street")};
    const auto weeks = arguments.value("weeks", "1");
    const auto read = std::from_chars(weeks.data(), weeks.data() + weeks.size(), filter.weeks);
    if (read.ec != std::errc{} || read.ptr != weeks.data() + weeks.size() || filter.weeks < 1 || filter.weeks > 520)
        return refused({fmt::format("\"{}\" is no number of weeks.", weeks), "--weeks", "Write a number from 1 to 520.", ProblemKind::WrongUse});
    return filter;
}

}  // namespace

namespace {

Output list_of_weeks(const std::vector<std::string>& all, Form form) {
    if (form == Form::Json) return {document({{"weeks", all}}), "", 0};
    Output output;
    for (const auto& week : all) output.data += week + "\n";
    return output;
}

Output shown(const desk::WeekView& week, const desk::WeekFilterView& filter, const audit::CheckCards& cards, const Arguments& arguments) {
    if (form_of(arguments) == Form::Json) return {document(in_json(week)), "", 0};
    return {arguments.has("health") ? health_in_text(week) : in_text(week, desk::in_words(filter, cards)), "", 0};
}

Output run_week_at_office(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    if (arguments.has("pdf"))
        return told_as({"The letter of the week is sealed by a data folder.", "--pdf",
                        "Leave --connect out, in a data folder that has taken the same bundles in.", ProblemKind::WrongUse},
                       form);
    const auto filter = filter_of(arguments);
    if (!filter) return told_as(filter.error(), form);
    const auto week = week_at_office(arguments, world, desk::settings_for(*filter));
    if (!week) return told_as(week.error(), form);
    return arguments.has("list") ? list_of_weeks(week->weeks, form) : shown(week->view, *filter, week->cards, arguments);
}

}  // namespace

Output run_week(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    if (arguments.has("connect")) return run_week_at_office(arguments, world);
    if (arguments.has("list") && !has_journal(world)) return nothing_yet(world, "weeks", form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    if (arguments.has("list")) {
        const auto all = desk::weeks(*desk);
        if (!all) return told_as(all.error(), form);
        return list_of_weeks(*all, form);
    }
    const auto name = arguments.word(1, "The week");
    if (!name) return told_as(name.error(), form);
    const auto filter = filter_of(arguments);
    if (!filter) return told_as(filter.error(), form);
    const auto week = desk::week_view(*desk, *name, desk::settings_for(*filter));
    if (!week) return told_as(week.error(), form);
    keep_columns_of(world, *desk);
    if (arguments.has("pdf")) {
        const auto letter = desk::week_letter(*desk, *week);
        if (!letter) return told_as(letter.error(), form);
        if (const auto done = write_file(arguments.value("pdf"), *letter); !done) return told_as(done.error(), form);
    }
    return shown(*week, *filter, desk::cards_of(desk->library()), arguments);
}

}  // namespace wm::app
