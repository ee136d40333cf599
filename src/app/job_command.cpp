// `job new`, `job list`, `job show`, `job facts`.
#include <fmt/format.h>

#include <cmath>
#include <optional>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "measure/outcome.hpp"
#include "units/reading.hpp"

namespace wm::app {

namespace {

Output job_new(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const std::string checklist = arguments.value("checklist");
    if (checklist.empty())
        return told_as({"It is not said which checklist.", "job new", "Write --checklist commissioning (or survey, kit, service).",
                        ProblemKind::WrongUse},
                       form);
    desk::OpenJob intent{.checklist = checklist,
                         .facts_text = "",
                         .facts_name = arguments.value("facts"),
                         .after = arguments.value("after"),
                         .practice = arguments.has("practice")};
    if (!intent.facts_name.empty()) {
        auto text = read_file(intent.facts_name);
        if (!text) return told_as(text.error(), form);
        intent.facts_text = std::move(*text);
    } else if (intent.after.empty() && !arguments.has("no-facts")) {
        return told_as({"No facts are given.", "job new", "Write --facts FILE.toml, --after JOB to take over those of a job, or --no-facts to be asked on the way.",
                        ProblemKind::WrongUse},
                       form);
    }
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    const auto job = desk->carry_out(intent);
    if (!job) return told_as(job.error(), form);
    Output output;
    if (const auto view = desk->job_view(*job))
        for (const auto& question : view->questions) output.talk += "Please look again: " + question + "\n";
    output.data = form == Form::Json ? document({{"job", *job}}) : *job + "\n";
    return output;
}

Output job_list(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    if (!has_journal(world)) return nothing_yet(world, "jobs", form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const auto rows = desk->job_rows();
    if (!rows) return told_as(rows.error(), form);
    if (form == Form::Json) {
        Json list = Json::array();
        for (const auto& row : *rows) list.push_back(in_json(row));
        return {document({{"jobs", list}}), "", 0};
    }
    Output output;
    for (const auto& row : *rows)
        output.data += fmt::format("{:<14} {:<14} {:<12} {:<20} {:<18} {}\n", row.job, row.checklist, row.state, row.place,
                                   row.crew, row.started.substr(0, 16));
    if (rows->empty()) output.talk = "There is no job yet.\n";
    return output;
}

std::string check_line(const desk::CheckView& check) {
    return fmt::format("  {}{} {:<20} {:<16} {}\n", check.hold ? "#" : " ", check.core ? "*" : " ", check.id,
                       measure::in_words(check.outcome), check.why);
}

Output job_show(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(2, "The job number");
    if (!job) return told_as(job.error(), form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const auto view = desk->job_view(*job);
    if (!view) return told_as(view.error(), form);
    if (form == Form::Json) return {document(in_json(*view)), "", 0};
    Output output;
    output.data = fmt::format("{} · {} {} · {} · {} · {}\n", view->row.job, view->row.checklist, view->checklist_version,
                              view->row.place, view->row.crew, view->row.state);
    for (const auto& stage : view->stages) {
        output.data += fmt::format("{} {} ({} of {})\n", stage.id, stage.title, stage.done, stage.total);
        for (const auto& check : view->checks)
            if (check.stage == stage.id) output.data += check_line(check);
    }
    for (const auto& question : view->questions) output.data += "Please look again: " + question + "\n";
    for (const auto& sentence : view->times) output.data += sentence + "\n";
    output.data += view->blockers.empty() ? "Nothing stands against signing.\n" : "Against signing:\n";
    for (const auto& blocker : view->blockers)
        output.data += fmt::format("  {:<20} {:<16} {}\n", blocker.check, blocker.outcome, blocker.why);
    output.talk = "# hold point   * core check\n";
    return output;
}

Output job_facts(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(2, "The job number");
    if (!job) return told_as(job.error(), form);
    desk::StateFacts intent{.job = *job, .facts = {}};
    auto given = arguments.values("set");
    given.insert(given.end(), arguments.words.begin() + 3, arguments.words.end());
    for (const auto& text : given) {
        const auto equals = text.find('=');
        if (equals == std::string::npos)
            return told_as({fmt::format("\"{}\" is no name=value.", text), "job facts",
                            "Write --set site.t_min_c=-13.", ProblemKind::WrongUse},
                           form);
        intent.facts.emplace_back(text.substr(0, equals), text.substr(equals + 1));
    }
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    if (const auto done = desk->carry_out(intent); !done) return told_as(done.error(), form);
    if (form == Form::Json) return {document({{"job", *job}, {"facts", intent.facts.size()}}), "", 0};
    return {"", fmt::format("{} fact(s) stated.\n", intent.facts.size()), 0};
}

// One more instrument for a job that is under way.
Output job_instrument(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(2, "The job number");
    if (!job) return told_as(job.error(), form);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    const desk::RegisterInstrument card{.job = *job, .id = arguments.value("id"), .type = arguments.value("type"),
                                        .resolution = arguments.value("resolution"), .uncertainty = arguments.value("uncertainty"),
                                        .calibrated_on = arguments.value("cal-date"), .due = arguments.value("cal-due"),
                                        .certificate = arguments.value("cert")};
    if (const auto done = desk->carry_out(card); !done) return told_as(done.error(), form);
    if (form == Form::Json) return {document({{"job", *job}, {"instrument", card.id}}), "", 0};
    return {"", fmt::format("{} is registered for {}.\n", card.id, *job), 0};
}

Output job_take_over(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(2, "The job number");
    if (!job) return told_as(job.error(), form);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    if (const auto done = desk->carry_out(desk::TakeOverJob{*job, arguments.value("by")}); !done) return told_as(done.error(), form);
    const auto hand = desk->in_hand(*job);
    if (!hand) return told_as(hand.error(), form);
    const auto& taken = hand->state().taken_over.back().second;
    if (form == Form::Json) return {document({{"job", *job}, {"by", taken.by}, {"from", taken.from}}), "", 0};
    return {"", fmt::format("{} has taken job {} over from {}.\n", taken.by, *job, taken.from), 0};
}

/// Of a job that is not handed over: to be read before it is signed. Of one that is, the sealed report is the only one.
Result<std::string> draft_of(desk::Desk& desk, const std::string& job) {
    const auto hand = desk.in_hand(job);
    if (!hand) return tl::unexpected(hand.error());
    if (hand->state().handover)
        return refused({"The job is handed over: what counts is its sealed report.", "job " + job, "Leave out --draft.", ProblemKind::Refused});
    return desk.draft_report(job);
}

// The sealed report again, for a customer without an address or a lost paper.
Output job_report(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(2, "The job number");
    if (!job) return told_as(job.error(), form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    std::optional<int> issue;
    if (arguments.has("issue")) {
        const auto number = units::read_number(arguments.value("issue"));
        if (!number || *number != std::floor(*number) || *number < 1 || *number > 1000)
            return told_as({fmt::format("\"{}\" is no number of an issue.", arguments.value("issue")), "job report",
                            "Write --issue 1 for the report, 2 for its first supplement.", ProblemKind::WrongUse},
                           form);
        issue = static_cast<int>(*number);
    }
    const bool draft = arguments.has("draft");
    if (draft && issue)
        return told_as({"A draft is no issue of the report.", "job report", "Say --draft or --issue, and not both.", ProblemKind::WrongUse}, form);
    const auto report = draft ? draft_of(*desk, *job) : desk->sealed_report(*job, issue);
    if (!report) return told_as(report.error(), form);
    const std::filesystem::path file =
        arguments.has("out") ? std::filesystem::path{arguments.value("out")} : world.data / "reports" / (*job + (draft ? "-draft.pdf" : ".pdf"));
    if (const auto done = write_file(file, *report); !done) return told_as(done.error(), form);
    return {form == Form::Json ? document({{"report", file.string()}}) : file.string() + "\n", "", 0};
}

}  // namespace

Output run_job(const Arguments& arguments, const World& world) {
    const auto what = arguments.word(1, "What to do (new, list, show, facts, take-over, report)");
    if (!what) return told_as(what.error(), form_of(arguments));
    if (*what == "new") return job_new(arguments, world);
    if (*what == "list") return job_list(arguments, world);
    if (*what == "show") return job_show(arguments, world);
    if (*what == "facts") return job_facts(arguments, world);
    if (*what == "instrument") return job_instrument(arguments, world);
    if (*what == "take-over") return job_take_over(arguments, world);
    if (*what == "report") return job_report(arguments, world);
    return told_as({fmt::format("There is no \"job {}\".", *what), "job", "Use job new, job list, job show, job facts, job instrument, job take-over or job report.",
                    ProblemKind::WrongUse},
                   form_of(arguments));
}

}  // namespace wm::app
