// `act`: corrective actions; `revisit`: houses to look at again.
#include <fmt/format.h>

#include <charconv>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "audit/causes.hpp"
#include "desk/actions.hpp"
#include "desk/permission.hpp"
#include "desk/week.hpp"

namespace wm::app {

namespace {

std::string in_text(const desk::ActionView& action) {
    std::string about = action.title.empty() ? action.finding : action.title;
    if (!action.subject.empty()) about += " of " + action.subject;
    std::string text = fmt::format("{}: {}, {} days: {}\n  cause: {}: {}\n  remedy: {}\n  owner: {}, due {}\n", action.action,
                                   action.state, action.age_days, about, action.cause, action.cause_words, action.remedy,
                                   action.owner, action.due);
    if (!action.done_on.empty())
        text += fmt::format("  carried out on {}{}{}\n", action.done_on, action.done_words.empty() ? "" : ": ", action.done_words);
    for (const auto& effect : action.effects) {
        if (!effect.is_due && !effect.recorded) text += fmt::format("  effect after {} days: told on {}\n", effect.after_days, effect.told_on);
        else text += fmt::format("  effect after {} days{}: {}. {}\n", effect.after_days, effect.recorded ? "" : ", not on record yet",
                                 effect.verdict, effect.sentence);
    }
    if (!action.ended_because.empty()) text += "  ended without proof: " + action.ended_because + "\n";
    return text;
}

Result<int> number_of(const std::string& text, std::string_view option) {
    int value = 0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
    if (read.ec == std::errc{} && read.ptr == text.data() + text.size() && value > 0) return value;
    return refused({fmt::format("\"{}\" is no number.", text), fmt::format("--{}", option), "Write a number from 1 on.",
                    ProblemKind::WrongUse});
}

// What it is about: a finding of the week by its place, or kind, subject and check by name.
Result<desk::DecideAction> decided_from(const Arguments& arguments, desk::Desk& desk) {
    desk::DecideAction intent{.finding = arguments.value("kind"), .subject = arguments.value("subject"),
                              .check = arguments.value("check"), .week = arguments.value("week"),
                              .cause = arguments.value("cause"), .cause_words = arguments.value("why"),
                              .remedy = arguments.value("remedy"), .owner = arguments.value("owner"),
                              .due = arguments.value("due"), .follows = arguments.value("follows"), .by = arguments.value("by")};
    if (!arguments.has("finding")) return intent;
    const auto which = number_of(arguments.value("finding"), "finding");
    if (!which) return tl::unexpected(which.error());
    const auto week = desk::week_view(desk, intent.week);
    if (!week) return tl::unexpected(week.error());
    if (static_cast<std::size_t>(*which) > week->findings.size())
        return refused({fmt::format("Week {} has {} findings; there is no number {}.", intent.week, week->findings.size(), *which),
                        "--finding", fmt::format("See witnessmark week {}.", intent.week), ProblemKind::WrongUse});
    const auto& finding = week->findings[static_cast<std::size_t>(*which) - 1];
    intent.finding = finding.kind;
    intent.subject = finding.subject;
    intent.check = finding.check;
    return intent;
}

Output listed_causes(Form form) {
    Json list = Json::array();
    Output output;
    for (const auto& cause : audit::causes()) {
        list.push_back({{"cause", cause.word}, {"meaning", cause.meaning}});
        output.data += fmt::format("{:<12} {}\n", cause.word, cause.meaning);
    }
    if (form == Form::Json) output.data = document({{"causes", list}});
    return output;
}

Output listed_actions(desk::Desk& desk, Form form) {
    const auto actions = desk::action_views(desk);
    if (!actions) return told_as(actions.error(), form);
    Json list = Json::array();
    Output output;
    for (const auto& action : *actions) {
        list.push_back(in_json(action));
        output.data += in_text(action);
    }
    if (form == Form::Json) output.data = document({{"actions", list}});
    else if (actions->empty()) output.talk = "No corrective action was decided yet.\n";
    return output;
}

Output shown(desk::Desk& desk, const std::string& number, Form form, const std::string& before) {
    const auto actions = desk::action_views(desk);
    if (!actions) return told_as(actions.error(), form);
    for (const auto& action : *actions)
        if (action.action == number) return {form == Form::Json ? document(in_json(action)) : before + in_text(action), "", 0};
    return {before, "", 0};
}

}  // namespace

Output run_act(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto what = arguments.word(1, "new, done, check, end, list or causes");
    if (!what) return told_as(what.error(), form);
    if (*what == "causes") return listed_causes(form);
    if (*what == "list" && !has_journal(world)) return nothing_yet(world, "actions", form);
    auto desk = open_desk(world, *what == "list" ? desk::Access::Read : desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    if (*what == "list") return listed_actions(*desk, form);
    if (*what == "new") {
        const auto intent = decided_from(arguments, *desk);
        if (!intent) return told_as(intent.error(), form);
        const auto number = desk->carry_out(*intent);
        if (!number) return told_as(number.error(), form);
        return shown(*desk, *number, form, *number + "\n");
    }
    if (*what != "done" && *what != "check" && *what != "end")
        return told_as({fmt::format("There is no form \"act {}\".", *what), "witnessmark act",
                        "See witnessmark act --help for its forms.", ProblemKind::WrongUse},
                       form);
    const auto action = arguments.word(2, "The number of the action");
    if (!action) return told_as(action.error(), form);
    if (*what == "check") {
        int days = 0;
        if (arguments.has("days")) {
            const auto read = number_of(arguments.value("days"), "days");
            if (!read) return told_as(read.error(), form);
            days = *read;
        }
        const auto done = desk->carry_out(desk::CheckEffect{*action, days, arguments.value("by")});
        if (!done) return told_as(done.error(), form);
    } else if (*what == "done") {
        const auto done = desk->carry_out(
            desk::CarryOutAction{*action, arguments.value("on"), arguments.value("note"), arguments.value("by")});
        if (!done) return told_as(done.error(), form);
    } else {
        const auto done = desk->carry_out(desk::EndAction{*action, arguments.value("why"), arguments.value("by")});
        if (!done) return told_as(done.error(), form);
    }
    return shown(*desk, *action, form, "");
}

Output run_revisit(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    auto desk = open_desk(world, desk::Access::Write);
    if (!desk) return told_as(desk.error(), form);
    std::vector<desk::OpenRevisit> wanted;
    if (arguments.has("week")) {
        if (auto fine = desk::may(desk->setup(), store::Role::Lead, "plan the visits of a week"); !fine) return told_as(fine.error(), form);
        const auto week = desk::week_view(*desk, arguments.value("week"));
        if (!week) return told_as(week.error(), form);
        for (const auto& sample : week->samples) wanted.push_back({sample.job, sample.why});
    } else {
        const auto job = arguments.word(1, "The job to look at again");
        if (!job) return told_as(job.error(), form);
        wanted.push_back({*job, arguments.value("why")});
    }
    Json list = Json::array();
    Output output;
    for (const auto& intent : wanted) {
        const auto number = desk->carry_out(intent);
        if (!number) return told_as(number.error(), form);
        list.push_back({{"job", *number}, {"after", intent.job}, {"why", intent.why}});
        output.data += fmt::format("{}\n  after {}{}{}\n", *number, intent.job, intent.why.empty() ? "" : ": ", intent.why);
    }
    if (form == Form::Json) output.data = arguments.has("week") ? document({{"revisits", list}}) : document(list.front());
    return output;
}

}  // namespace wm::app
