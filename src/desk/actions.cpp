// Corrective actions: decided, carried out, checked, ended. Entries of the office, under no job.
#include "desk/actions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "audit/causes.hpp"
#include "audit/effect.hpp"
#include "desk/desk.hpp"
#include "desk/permission.hpp"
#include "desk/week.hpp"
#include "digest/text.hpp"
#include "record/codec.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

constexpr std::array<int, 2> looked_at = {30, 90};

record::Personal words(const std::string& text) { return {"", digest::composed(text)}; }

std::optional<record::Personal> words_if_any(const std::string& text) {
    return text.empty() ? std::nullopt : std::optional{words(text)};
}

tl::unexpected<Problem> missing(std::string_view what, std::string_view where, std::string_view how) {
    return refused({fmt::format("{} is missing.", what), std::string{where}, std::string{how}, ProblemKind::WrongUse});
}

tl::unexpected<Problem> no_date(const std::string& text, std::string_view where) {
    return refused({fmt::format("\"{}\" is no date.", text), std::string{where}, "Write it as 2027-03-18.",
                    ProblemKind::Unreadable});
}

// A batch and an instrument are codes; whatever else a finding is about may be a person's name.
record::Words subject_words(const DecideAction& intent) {
    const bool is_code = intent.finding == "batch and check" || intent.finding == "instrument drift" || intent.subject.empty();
    const std::string text = digest::composed(intent.subject);
    return is_code ? record::Words{text} : record::Words{words(text)};
}

std::string signed_number(double share) { return units::print_short(share, 6); }

Result<void> keep(Desk& desk, record::Body body) {
    std::vector<record::Draft> drafts{{"", std::move(body)}};
    if (auto fine = may_say(desk.setup(), drafts); !fine) return fine;
    auto written = desk.journal().append({.wall_ms = desk.setup().now().wall_ms, .customer = "", .drafts = std::move(drafts)});
    if (!written) return tl::unexpected(written.error());
    return {};
}

Result<record::ActionState> action_of(Desk& desk, const std::string& number, std::string_view where) {
    const auto office = office_at(desk);
    if (!office) return tl::unexpected(office.error());
    const auto* action = office->action(number);
    if (action == nullptr)
        return refused({fmt::format("There is no corrective action \"{}\".", number), std::string{where},
                        "See witnessmark act list for the actions.", ProblemKind::Unreadable});
    return *action;
}

Result<void> still_open(const record::ActionState& action) {
    if (!action.is_closed()) return {};
    return refused({"This action is closed.", "action " + action.decided.action,
                    "Decide a new one that follows it, with --follows.", ProblemKind::Refused});
}

std::string today_of(const Desk& desk) { return day_of(desk.setup().now()); }

}  // namespace

Result<record::OfficeState> office_at(Desk& desk) {
    const auto stream = desk.journal().read_stream();
    if (!stream) return tl::unexpected(stream.error());
    return record::office_of(stream->entries);
}

EffectView effect_view(const record::ActionState& action, const audit::Columns& table, const audit::CheckCards& cards,
                       const EffectAsked& asked) {
    EffectView view;
    view.after_days = asked.after_days;
    view.told_on = day_after(action.done->second.on, asked.after_days + 1).value_or("");
    view.is_due = !view.told_on.empty() && view.told_on <= asked.today;
    const auto effect = audit::effect_of(table, cards,
                                         {action.decided.finding, record::shown(action.decided.subject), action.decided.check},
                                         {.done_on = action.done->second.on, .after_days = asked.after_days});
    view.before_failed = static_cast<int>(effect.before.failed);
    view.before_tries = static_cast<int>(effect.before.tries);
    view.after_failed = static_cast<int>(effect.after.failed);
    view.after_tries = static_cast<int>(effect.after.tries);
    if (effect.difference) {
        view.difference = effect.difference->difference;
        view.low = effect.difference->interval.low;
        view.high = effect.difference->interval.high;
    }
    view.verdict = record::in_words(effect.verdict);
    view.sentence = effect.sentence;
    if (const auto* kept = action.effect_after(asked.after_days)) {
        view.recorded = true;
        view.verdict = record::in_words(kept->verdict);
    }
    return view;
}

ActionView action_view(const record::ActionState& action, const audit::Columns& table, const audit::CheckCards& cards,
                       const std::string& today, int zone_minutes) {
    const auto& told = action.decided;
    ActionView view{.action = told.action, .finding = told.finding, .subject = record::shown(told.subject), .check = told.check,
                    .title = told.check.empty() ? "" : audit::title_of(cards, told.check), .week = told.week,
                    .cause = told.cause, .cause_words = record::shown(told.cause_words), .remedy = record::shown(told.remedy),
                    .owner = record::shown(told.owner), .due = told.due,
                    .decided_on = local_text(action.origin.time, zone_minutes).substr(0, 10), .done_on = "", .done_words = "",
                    .follows = told.follows, .ended_because = "", .state = "decided", .is_closed = action.is_closed(),
                    .age_days = 0, .effects = {}};
    view.age_days = std::max(0, days_between(view.decided_on, today).value_or(0));
    if (action.done) {
        view.done_on = action.done->second.on;
        if (action.done->second.words) view.done_words = record::shown(*action.done->second.words);
        view.state = "carried out";
        for (const int days : looked_at) {
            view.effects.push_back(effect_view(action, table, cards, {.after_days = days, .today = today}));
            const auto& effect = view.effects.back();
            if (effect.recorded) view.state = effect.verdict;
            else if (effect.is_due) view.state = "effect to be checked";
        }
    } else if (told.due < today) {
        view.state = "overdue";
    }
    if (action.ended) {
        view.ended_because = record::shown(action.ended->second.why);
        view.state = "ended without proof";
    }
    return view;
}

Result<std::vector<ActionView>> action_views(Desk& desk, const std::string& today) {
    const auto office = office_at(desk);
    if (!office) return tl::unexpected(office.error());
    if (office->actions.empty()) return std::vector<ActionView>{};
    const auto table = desk.audit_columns();
    if (!table) return tl::unexpected(table.error());
    return action_views(*office, **table, cards_of(desk.library()), today, desk.setup().now().zone_minutes);
}

std::vector<ActionView> action_views(const record::OfficeState& office, const audit::Columns& table, const audit::CheckCards& cards,
                                     const std::string& today, int zone_minutes) {
    std::vector<ActionView> views;
    for (const auto& action : office.actions) views.push_back(action_view(action, table, cards, today, zone_minutes));
    // Whoever reads it wants what waits longest first; what is closed is for looking up.
    std::stable_sort(views.begin(), views.end(), [](const ActionView& a, const ActionView& b) {
        return a.is_closed != b.is_closed ? b.is_closed : a.age_days > b.age_days;
    });
    return views;
}

Result<std::vector<ActionView>> action_views(Desk& desk) { return action_views(desk, today_of(desk)); }

Result<std::string> Desk::carry_out(const DecideAction& intent) {
    const std::string where = "corrective action";
    if (intent.finding.empty()) return missing("What was found", where, "Name its kind as the week does, for example \"crew and check\".");
    if (audit::cause_named(intent.cause) == nullptr) {
        std::string list;
        for (const auto& cause : audit::causes()) list += fmt::format("{}{}", list.empty() ? "" : ", ", cause.word);
        return refused({intent.cause.empty() ? "The cause is missing." : fmt::format("\"{}\" is no cause of the list.", intent.cause),
                        where, "Use one of: " + list + ".", ProblemKind::WrongUse});
    }
    if (intent.cause_words.empty()) return missing("The cause in your own words", where, "Write --why \"…\".");
    if (intent.remedy.empty()) return missing("What is to be done", where, "Write --remedy \"…\".");
    if (intent.owner.empty()) return missing("Who sees to it", where, "Write --owner NAME.");
    if (!monday_of(intent.week))
        return refused({fmt::format("\"{}\" is no week.", intent.week), where, "Write it as 2027-W09 (ISO 8601).", ProblemKind::WrongUse});
    const auto ahead = days_between(today_of(*this), intent.due);
    if (!ahead) return no_date(intent.due, where);
    if (*ahead < 0) return refused({fmt::format("{} is in the past.", intent.due), where, "Name a day to come.", ProblemKind::Refused});
    const auto office = office_at(*this);
    if (!office) return tl::unexpected(office.error());
    if (!intent.follows.empty() && office->action(intent.follows) == nullptr) {
        const auto none = action_of(*this, intent.follows, where);
        return tl::unexpected(none.error());
    }
    std::string prefix = journal_.device().substr(0, 4);
    std::transform(prefix.begin(), prefix.end(), prefix.begin(),
                   [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 32) : c; });
    const auto mine = std::count_if(office->actions.begin(), office->actions.end(), [&](const record::ActionState& action) {
        return action.decided.action.starts_with("A-" + prefix + "-");
    });
    const std::string number = fmt::format("A-{}-{:04}", prefix, mine + 1);
    const auto done = keep(*this, record::ActionDecided{.action = number,
                                                        .finding = intent.finding,
                                                        .subject = subject_words(intent),
                                                        .check = intent.check,
                                                        .week = intent.week,
                                                        .cause = intent.cause,
                                                        .cause_words = words(intent.cause_words),
                                                        .remedy = words(intent.remedy),
                                                        .owner = words(intent.owner),
                                                        .due = intent.due,
                                                        .follows = intent.follows,
                                                        .by = words_if_any(said_by(setup_, intent.by))});
    if (!done) return tl::unexpected(done.error());
    return number;
}

Result<void> Desk::carry_out(const CarryOutAction& intent) {
    const std::string where = "action " + intent.action;
    const auto action = action_of(*this, intent.action, where);
    if (!action) return tl::unexpected(action.error());
    if (const auto open = still_open(*action); !open) return open;
    const std::string today = today_of(*this);
    const std::string on = intent.on.empty() ? today : intent.on;
    const auto ahead = days_between(today, on);
    if (!ahead) return no_date(on, where);
    if (*ahead > 0)
        return refused({fmt::format("{} is still to come.", on), where, "Say it when it is done.", ProblemKind::Refused});
    return keep(*this, record::ActionDone{.action = intent.action, .on = on, .words = words_if_any(intent.words),
                                          .by = words_if_any(said_by(setup_, intent.by))});
}

Result<std::string> Desk::carry_out(const CheckEffect& intent) {
    const std::string where = "action " + intent.action;
    const auto action = action_of(*this, intent.action, where);
    if (!action) return tl::unexpected(action.error());
    if (const auto open = still_open(*action); !open) return tl::unexpected(open.error());
    if (!action->done)
        return refused({"It was not carried out yet, so there is no effect to look for.", where,
                        fmt::format("Write witnessmark act done {} first.", intent.action), ProblemKind::Refused});
    if (intent.after_days != 0 && std::find(looked_at.begin(), looked_at.end(), intent.after_days) == looked_at.end())
        return refused({fmt::format("An effect is looked at after 30 and after 90 days, not after {}.", intent.after_days), where,
                        "Write --days 30 or --days 90.", ProblemKind::WrongUse});
    const int passed = days_between(action->done->second.on, today_of(*this)).value_or(0) - 1;
    int days = intent.after_days;
    if (days == 0)
        for (const int one : looked_at)
            if (passed >= one) days = one;
    if (days == 0 || passed < days) {
        const int wanted = days == 0 ? looked_at.front() : days;
        return refused({fmt::format("{} days have passed since {}; the effect is told from {} days.", std::max(0, passed),
                                    action->done->second.on, wanted),
                        where,
                        fmt::format("Ask again on {}.", day_after(action->done->second.on, wanted + 1).value_or("")),
                        ProblemKind::Refused});
    }
    const auto table = audit_columns();
    if (!table) return tl::unexpected(table.error());
    const auto effect = audit::effect_of(**table, cards_of(library()),
                                         {action->decided.finding, record::shown(action->decided.subject), action->decided.check},
                                         {.done_on = action->done->second.on, .after_days = days});
    record::EffectChecked kept{.action = intent.action, .after_days = days, .before_from = effect.before_from,
                               .after_from = effect.after_from, .until = effect.until,
                               .before_failed = effect.before.failed, .before_tries = effect.before.tries,
                               .after_failed = effect.after.failed, .after_tries = effect.after.tries,
                               .difference = "", .low = "", .high = "", .verdict = effect.verdict, .by = words_if_any(said_by(setup_, intent.by))};
    if (effect.difference) {
        kept.difference = signed_number(effect.difference->difference);
        kept.low = signed_number(effect.difference->interval.low);
        kept.high = signed_number(effect.difference->interval.high);
    }
    if (const auto done = keep(*this, std::move(kept)); !done) return tl::unexpected(done.error());
    return fmt::format("{} days after: {}. {}", days, record::in_words(effect.verdict), effect.sentence);
}

Result<void> Desk::carry_out(const EndAction& intent) {
    const std::string where = "action " + intent.action;
    const auto action = action_of(*this, intent.action, where);
    if (!action) return tl::unexpected(action.error());
    if (const auto open = still_open(*action); !open) return open;
    if (intent.why.empty()) return missing("The reason", where, "Write --why \"…\": an action that nobody saw work is closed by a reason.");
    return keep(*this, record::ActionEnded{.action = intent.action, .why = words(intent.why), .by = words_if_any(said_by(setup_, intent.by))});
}

}  // namespace wm::desk
