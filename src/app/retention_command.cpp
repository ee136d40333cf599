// `retention`: how long records are kept, and what may be erased now.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "app/open_copies.hpp"
#include "app/retention_rules.hpp"
#include "store/files.hpp"

namespace wm::app {

namespace {

constexpr std::string_view local_law = "Local law decides, and it changes: have these periods confirmed before you rely on them.\n";

std::string_view words_of(desk::EarlyErasure early) { return early == desk::EarlyErasure::Refuse ? "refuse" : "warn"; }

Json rule_json(const desk::RetentionRule& rule) {
    return {{"record", rule.record},
            {"years", rule.years},
            {"from", rule.from == desk::KeptFrom::Handover ? "handover" : "end of year"},
            {"early", words_of(rule.early)},
            {"why", rule.why},
            {"source", rule.source}};
}

Json view_json(const desk::RetentionView& view) {
    Json kept = Json::array();
    for (const auto& each : view.kept) {
        Json one = rule_json(each.rule);
        one["until"] = each.until;
        one["job"] = each.job;
        kept.push_back(std::move(one));
    }
    return {{"jobs", view.jobs}, {"customer", view.customer}, {"until", view.until}, {"open", view.open}, {"due", view.due}, {"kept", kept}};
}

Output list_rules(const World& world, Form form) {
    const auto rules = retention_rules(world);
    if (!rules) return told_as(rules.error(), form);
    if (form == Form::Json) {
        Json list = Json::array();
        for (const auto& rule : rules->rules) list.push_back(rule_json(rule));
        return {document({{"country", rules->country}, {"name", rules->name}, {"rules", list}}), "", 0};
    }
    std::string text;
    for (const auto& rule : rules->rules)
        text += fmt::format("{}: {} years from the {}. Erased before: {}. {} Source: {}.\n", rule.record, rule.years,
                            rule.from == desk::KeptFrom::Handover ? "handover" : "end of its year", words_of(rule.early), rule.why,
                            rule.source);
    return {text, fmt::format("Country: {}. Another is chosen by [retention] country = \"…\" in settings.toml.\n{}", rules->name, local_law), 0};
}

Output list_countries(const World& world, Form form) {
    const auto all = all_retention_rules(world);
    if (!all) return told_as(all.error(), form);
    Json list = Json::array();
    std::string text;
    for (const auto& each : *all) {
        list.push_back({{"country", each.country}, {"name", each.name}, {"rules", each.rules.size()}});
        text += fmt::format("{:5} {}\n", each.country, each.name);
    }
    return {form == Form::Json ? document({{"countries", list}}) : text, form == Form::Json ? "" : std::string{local_law}, 0};
}

Output list_due(const World& world, Form form) {
    const auto rules = retention_rules(world);
    if (!rules) return told_as(rules.error(), form);
    if (!has_journal(world)) return nothing_yet(world, "due", form);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    const auto all = desk::retention(*desk, *rules);
    if (!all) return told_as(all.error(), form);
    Json due = Json::array();
    std::string text;
    std::string next;
    for (const auto& view : *all) {
        if (!view.due) {
            if (next.empty() && !view.open) next = view.until;
            continue;
        }
        due.push_back(view_json(view));
        text += fmt::format("{}  {}  {}\n", view.until.empty() ? "practice  " : view.until, view.jobs.front(),
                            fmt::format("{}", fmt::join(view.jobs.begin() + 1, view.jobs.end(), " ")));
    }
    if (form == Form::Json)
        return {document({{"country", rules->country}, {"due", due}, {"next", next}}), "", 0};
    std::string talk = due.empty() ? "Nothing may be erased by its period yet.\n"
                                   : "The periods of these have ended: witnessmark erase-customer JOB, the first number of each.\n";
    if (!next.empty()) talk += fmt::format("The next period ends on {}.\n", next);
    return {text, talk + fmt::format("Country: {}. {}", rules->name, local_law), 0};
}

}  // namespace

Output run_retention(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto what = arguments.word(1, "What to do (due, list, countries)");
    if (!what) return told_as(what.error(), form);
    if (*what == "due") return list_due(world, form);
    if (*what == "list") return list_rules(world, form);
    if (*what == "countries") return list_countries(world, form);
    return told_as({fmt::format("There is no \"retention {}\".", *what), "retention", "Use retention due, retention list or retention countries.",
                    ProblemKind::WrongUse},
                   form);
}

Output run_erase_customer(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(1, "The job number");
    if (!job) return told_as(job.error(), form);
    const auto rules = retention_rules(world);
    if (!rules) return told_as(rules.error(), form);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    std::vector<std::string> against;
    const auto view = desk::retention_of(*desk, *rules, *job);
    // A customer who is erased already is erased again: what another device still brought goes too.
    if (!view && view.error().kind != ProblemKind::Refused) return told_as(view.error(), form);
    if (view) {
        const std::string today = desk::day_of(world.now());
        against = desk::words_against(*view, today);
        const std::string why = arguments.value("despite");
        if (desk::must_be_kept(*view, today) && why.empty())
            return told_as({fmt::format("The law wants records of this house kept: {}", fmt::join(against, " ")), "job " + *job,
                            "Wait until then, or say with --despite \"why\" what allows it; the reason stays on record. Local law decides.",
                            ProblemKind::Refused},
                           form);
        if (!why.empty())
            if (const auto noted = desk::note_early_erasure(*desk, *job, why); !noted) return told_as(noted.error(), form);
    }
    if (const auto done = desk->erase_customer(*job); !done) return told_as(done.error(), form);
    if (const auto dropped = drop_copies_of_erased(*desk, world.data); !dropped) return told_as(dropped.error(), form);
    std::string talk =
        "The words, photos and mails of this customer are deleted here, and the key in the backups with them: what\n"
        "they still hold of it nobody can open. Other devices forget as soon as they take this entry in; a bundle\n"
        "on a stick, and mails and reports that were saved elsewhere, you delete yourself.\n";
    if (!against.empty()) talk += "Before its period ended:\n";
    for (const auto& sentence : against) talk += "  " + sentence + "\n";
    return {form == Form::Json ? document({{"erased", true}, {"job", *job}, {"before_its_period", against}}) : "", talk, 0};
}

}  // namespace wm::app
