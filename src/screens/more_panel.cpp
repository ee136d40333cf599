// The sheets behind the key "More".
#include "screens/more_panel.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <chrono>
#include <optional>
#include <utility>

namespace wm::screens {
namespace {

using desk::CheckView;

/// A heading and fields that scroll, and beneath them a row with "Back" and the deed. The fields
/// come first: the row closes them.
class Form {
public:
    /// Beside the letters on the glass there is room for what is written, and for no deed.
    Form(Touch& touch, const Rect& at, std::string_view title) : touch_{touch} {
        Rect rest = at;
        const bool is_written_in = at.h < touch.mm(2.0F * strong_key_mm + 20.0F);
        if (!is_written_in) deeds_ = columns(cut_bottom(rest, touch.strong_side(), touch.gap()), 2, touch.gap());
        fields_.emplace(touch, "fields", rest);
        if (!is_written_in) fields_->heading(title);
    }
    void words(std::string_view text) { fields_->words(text); }
    void text(std::string_view name, std::string& value, std::string_view hint) {
        (void)field(touch_, name, fields_->take(touch_.key_side(), touch_.gap()), value, hint);
    }
    /// Keys that fill a field; a pressed one puts its words there.
    void offers(const std::vector<std::string>& offered, std::string& value, const std::vector<std::string>& beneath = {}) {
        if (offered.empty()) return;
        const int per_row = fitting(fields_->width(), touch_.mm(46.0F), touch_.gap());
        const int count = static_cast<int>(offered.size());
        Grid grid{.area = {}, .per_row = per_row, .height = touch_.key_side(), .gap = touch_.gap()};
        grid.area = fields_->take(grid.total_height(count), touch_.gap());
        for (int i = 0; i < count; ++i) {
            const std::string& one = offered[static_cast<std::size_t>(i)];
            if (key(touch_, one, grid.cell(i),
                    {.words = one,
                     .small = static_cast<std::size_t>(i) < beneath.size() ? std::string_view{beneath[static_cast<std::size_t>(i)]} : std::string_view{},
                     .state = one == value ? KeyState::Chosen : KeyState::Ready,
                     .face = Face::Small})) {
                value = one;
            }
        }
    }
    /// `wanted`: what is missing yet, where it is blocked.
    [[nodiscard]] bool deed(std::string_view name, std::string_view words, KeyState state, std::string_view wanted = {}) {
        fields_.reset();
        if (deeds_.empty()) return false;
        return key(touch_, name, deeds_[1],
                   {.words = words,
                    .small = state == KeyState::Ready ? std::string_view{} : wanted,
                    .role = state == KeyState::Ready ? KeyRole::Primary : KeyRole::Answer,
                    .state = state});
    }
    [[nodiscard]] bool back() { return !deeds_.empty() && key(touch_, "back", deeds_[0], {.words = "Back"}); }

private:
    Touch& touch_;
    std::optional<ScrollArea> fields_;
    std::vector<Rect> deeds_;
};

KeyState ready_if(bool complete) {
    return complete ? KeyState::Ready : KeyState::Blocked;
}

std::optional<std::chrono::year_month_day> date_in(std::string_view text) {
    if (text.size() < 10) return std::nullopt;
    int year = 0;
    unsigned month = 0;
    unsigned day = 0;
    const char* start = text.data();
    if (std::from_chars(start, start + 4, year).ptr != start + 4 || std::from_chars(start + 5, start + 7, month).ptr != start + 7 ||
        std::from_chars(start + 8, start + 10, day).ptr != start + 10) {
        return std::nullopt;
    }
    const std::chrono::year_month_day date{std::chrono::year{year}, std::chrono::month{month}, std::chrono::day{day}};
    return date.ok() ? std::optional{date} : std::nullopt;
}

bool names_a_day(std::string_view text) {
    for (std::size_t at = 0; at + 10 <= text.size(); ++at)
        if (text[at + 4] == '-' && text[at + 7] == '-' && date_in(text.substr(at, 10))) return true;
    return false;
}

void defer(Touch& touch, const Rect& at, const CheckView& check, const World& world,
           RunDraft& draft, Requests& requests) {
    Form form{touch, at, "Put off: " + check.title};
    DeferDraft& to = draft.defer;
    form.offers(check.defer_reasons, to.why);
    form.text("why", to.why, "why it cannot be done now");
    std::vector<std::string> days;
    std::vector<std::string> weekdays;
    for (const int offset : {1, 2, 7, 14}) {
        if (check.defer_days > 0 && offset > check.defer_days) continue;
        days.push_back(day_after(world.moment.now, offset));
        weekdays.push_back(offset == 1 ? "tomorrow, " + weekday_of(days.back()) : weekday_of(days.back()));
    }
    form.offers(days, to.until, weekdays);
    form.text("until", to.until, "due on, for example 2027-03-06");
    if (world.job && !world.job->row.crew.empty()) form.offers({world.job->row.crew}, to.owner);
    form.text("owner", to.owner, "who sees to it");
    const bool is_day = date_in(to.until) && to.until.size() == 10;
    const bool too_late = is_day && check.defer_days > 0 && to.until > day_after(world.moment.now, check.defer_days);
    const bool past = is_day && to.until < world.moment.now.substr(0, 10);
    if (!to.until.empty() && !is_day) form.words("\"" + to.until + "\" is no day: write it as 2027-03-18.");
    if (too_late) form.words(fmt::format("At most {} days are allowed for this check.", check.defer_days));
    if (past) form.words("That day has passed.");
    const bool complete = !to.why.empty() && is_day && !too_late && !past && !to.owner.empty();
    const std::string_view wanted = to.why.empty() ? "first: why" : !is_day || too_late || past ? "first: until when" : "first: who sees to it";
    if (form.deed("put off", "Put off", ready_if(complete), wanted)) {
        requests.emplace_back(
            desk::Intent{desk::DeferCheck{draft.job, check.id, to.until, to.owner, to.why}});
        to = {};
        draft.mode = RunMode::Reading;
    }
    if (form.back()) draft.mode = RunMode::Reading;
}

void concede(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft,
             Requests& requests) {
    Form form{touch, at, "Accept as it is: " + check.title};
    form.words("It stays as found and stands in the report with the name and the reason.");
    form.text("by", draft.concede.by, "who accepts it");
    form.text("why", draft.concede.why, "why it may stay");
    const bool complete = !draft.concede.by.empty() && !draft.concede.why.empty();
    const std::string_view wanted = draft.concede.by.empty() ? "first: who accepts it" : "first: why";
    if (form.deed("accept", "Accept", ready_if(complete), wanted)) {
        requests.emplace_back(desk::Intent{
            desk::ConcedeCheck{draft.job, check.id, draft.concede.by, draft.concede.why}});
        draft.concede = {};
        draft.mode = RunMode::Reading;
    }
    if (form.back()) draft.mode = RunMode::Reading;
}

/// The words a fact can be; empty for numbers and free text.
std::vector<std::string> choices_of(const World& world, const std::string& key) {
    if (world.job)
        for (const desk::FactView& fact : world.job->unknown_facts)
            if (fact.key == key) return fact.choices;
    return {};
}

std::string unit_of(const World& world, const std::string& key) {
    if (world.job)
        for (const desk::FactView& fact : world.job->unknown_facts)
            if (fact.key == key) return fact.unit;
    return {};
}

void facts(Touch& touch, const Rect& at, const CheckView& check, const World& world, RunDraft& draft,
           Requests& requests) {
    if (check.missing_facts.empty()) {
        draft.mode = RunMode::Reading;
        return;
    }
    const std::string& name = check.missing_facts.front();
    const std::string& meaning = check.missing_words.empty() ? name : check.missing_words.front();
    Form form{touch, at, "Not known yet: " + meaning};
    const bool dated = name.ends_with("_lic") || name.ends_with("_card");
    const std::vector<std::string> choices = choices_of(world, name);
    if (!choices.empty()) {
        form.offers(choices, draft.fact);
    } else {
        if (dated) form.words("Its number and the last day it is valid: E-204 2028-03-31.");
        else if (const std::string unit = unit_of(world, name); !unit.empty()) form.words("A plain number is in " + unit + ". It may carry another unit.");
        form.text("fact", draft.fact, "write it here");
    }
    const bool lacks_day = dated && !draft.fact.empty() && !names_a_day(draft.fact);
    if (lacks_day) form.words("The day is missing: it is written as 2028-03-31.");
    if (form.deed("state", "Keep it", ready_if(!draft.fact.empty() && !lacks_day))) {
        requests.emplace_back(desk::Intent{desk::StateFacts{draft.job, {{name, draft.fact}}}});
        draft.sent_fact = SentFact{name, draft.fact, draft.answered, RunMode::Facts};
        draft.fact.clear();
        // What comes next is only known when this one is: the form stays until nothing is missing.
    }
    if (form.back()) draft.mode = RunMode::Reading;
}

void near_miss(Touch& touch, const Rect& at, RunDraft& draft, Requests& requests) {
    Form form{touch, at, "Something almost went wrong"};
    form.words("Written down so that it cannot happen to the next crew. No one is blamed.");
    form.text("what", draft.near_miss, "what happened");
    if (form.deed("note", "Note it", ready_if(!draft.near_miss.empty()))) {
        requests.emplace_back(desk::Intent{desk::NoteNearMiss{draft.job, draft.near_miss}});
        draft.near_miss.clear();
        draft.mode = RunMode::Reading;
    }
    if (form.back()) draft.mode = RunMode::Reading;
}

void leave(Touch& touch, const Rect& at, RunDraft& draft, Requests& requests) {
    Form form{touch, at, "Stop the job and leave the site safe"};
    form.words("The next crew must know what is shut, empty, locked or covered.");
    form.text("left safe", draft.leave.left_safe, "how it was left: water, power, cover, roof");
    form.text("why", draft.leave.why, "why the job stops");
    const bool complete = !draft.leave.left_safe.empty() && !draft.leave.why.empty();
    if (form.deed("leave", "Stop the job", ready_if(complete))) {
        requests.emplace_back(
            desk::Intent{desk::AbandonJob{draft.job, draft.leave.left_safe, draft.leave.why}});
        draft.leave = {};
        draft.mode = RunMode::Reading;
    }
    if (form.back()) draft.mode = RunMode::Reading;
}

/// Types of the checks of this job that need one; the one of the check at hand first.
std::vector<std::string> wanted_types(const CheckView& check, const World& world) {
    std::vector<std::string> types;
    const auto want = [&](const std::string& type) {
        if (!type.empty() && std::find(types.begin(), types.end(), type) == types.end()) types.push_back(type);
    };
    const auto want_all = [&](const CheckView& each) {
        want(each.instrument_type);
        for (const desk::PlaceView& place : each.places) want(place.instrument_type);
    };
    want_all(check);
    if (world.job)
        for (const CheckView& each : world.job->checks)
            if (each.applies) want_all(each);
    return types;
}

/// Cards that other jobs on this device have, once the register was read.
std::vector<std::string> known_cards(const World& world) {
    std::vector<std::string> ids;
    if (!world.registers || world.registers->first != desk::Register::Instruments) return ids;
    const auto is_here = [&](const std::string& id) {
        if (world.job)
            for (const CheckView& check : world.job->checks)
                for (const desk::InstrumentView& one : check.instruments)
                    if (one.id == id) return true;
        return false;
    };
    for (const auto& row : world.registers->second.rows)
        if (!is_here(row.cells.front())) ids.push_back(row.cells.front());
    return ids;
}

void instrument(Touch& touch, const Rect& at, const CheckView& check, const World& world, RunDraft& draft, Requests& requests) {
    if (!std::exchange(draft.list_asked, true)) requests.emplace_back(AskRegister{desk::Register::Instruments});
    Form form{touch, at, "One more instrument for this job"};
    InstrumentDraft& card = draft.added;
    const auto known = known_cards(world);
    if (!known.empty()) form.words("Used on other jobs: one touch takes its card over.");
    form.offers(known, card.id);
    form.text("id", card.id, "the mark or number that stands on it");
    const bool is_known = std::find(known.begin(), known.end(), card.id) != known.end();
    if (!is_known) {
        form.offers(wanted_types(check, world), card.type);
        const std::string unit = check.unit.empty() ? "its unit" : check.unit;
        form.text("uncertainty", card.uncertainty, fmt::format("its uncertainty (k = 2), a figure with {}", unit));
        form.text("resolution", card.resolution, fmt::format("smallest step it shows, a figure with {}", unit));
        form.text("due", card.due, "calibrated until, for example 2027-06-30");
    }
    const bool complete = !card.id.empty() && (is_known || (!card.type.empty() && !card.uncertainty.empty()));
    const std::string_view lacks = card.id.empty() ? "its mark is missing" : card.type.empty() ? "choose its type" : "its uncertainty is missing";
    if (form.deed("register", "Add it", ready_if(complete), lacks)) {
        desk::RegisterInstrument wanted{.job = draft.job, .id = card.id, .type = "", .resolution = "", .uncertainty = "", .calibrated_on = "",
                                        .due = "", .certificate = ""};
        if (!is_known) {
            wanted.type = card.type;
            wanted.resolution = card.resolution;
            wanted.uncertainty = card.uncertainty;
            wanted.due = card.due;
        }
        requests.emplace_back(desk::Intent{std::move(wanted)});
        draft.instrument = card.id;
        card = {};
        draft.mode = RunMode::Reading;
    }
    if (form.back()) draft.mode = RunMode::Reading;
}

struct MoreKey {
    std::string_view name;
    std::string_view words;
    RunMode mode;
};

/// Why a sheet is of no use at this check; empty where it is.
std::string_view against_it(const CheckView& check, RunMode mode) {
    if (mode == RunMode::Deferring && check.defer_reasons.empty())
        return check.core || check.hold ? "the set is not handed over without it" : "it may stay open";
    if (mode == RunMode::Conceding && !check.may_be_conceded)
        return check.severity == "H" ? "never for what can hurt someone" : "nothing stands as failed";
    if (mode == RunMode::Facts && check.missing_facts.empty()) return "none is missing here";
    return {};
}

void choose_more(Touch& touch, const Rect& at, const CheckView& check, RunDraft& draft) {
    constexpr std::array keys{
        MoreKey{"put off", "Put off to a later day", RunMode::Deferring},
        MoreKey{"accept", "Accept as it is (concession)", RunMode::Conceding},
        MoreKey{"record", "What was entered here", RunMode::Record},
        MoreKey{"fact", "State a missing fact", RunMode::Facts},
        MoreKey{"house", "What is known of the house", RunMode::House},
        MoreKey{"instrument", "Add an instrument", RunMode::Instrument},
        MoreKey{"parts", "Parts from the store", RunMode::Parts},
        MoreKey{"near miss", "Something almost went wrong", RunMode::NearMiss},
        MoreKey{"leave", "Stop the job, leave it safe", RunMode::Leaving},
        MoreKey{"back", "Back", RunMode::Reading},
    };
    ScrollArea area{touch, "keys", at};
    area.heading(check.title);
    const int per_row = std::clamp(fitting(area.width(), touch.mm(62.0F), touch.gap()), 1, 2);
    Grid grid{.area = {}, .per_row = per_row, .height = touch.strong_side(), .gap = touch.gap()};
    grid.area = area.take(grid.total_height(static_cast<int>(keys.size())), touch.gap());
    grid.area.w = area.width();
    int cell = 0;
    for (const MoreKey& one : keys) {
        const std::string_view against = against_it(check, one.mode);
        if (key(touch, one.name, grid.cell(cell++),
                {.words = one.words, .small = against, .state = ready_if(against.empty())})) {
            draft.mode = one.mode;
            draft.list_asked = false;
        }
    }
}

}  // namespace

std::string day_after(std::string_view now, int days) {
    const auto date = date_in(now);
    if (!date) return {};
    const std::chrono::year_month_day then{std::chrono::sys_days{*date} + std::chrono::days{days}};
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(then.year()),
                       static_cast<unsigned>(then.month()), static_cast<unsigned>(then.day()));
}

std::string weekday_of(std::string_view text) {
    constexpr std::array<std::string_view, 7> names{"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"};
    const auto date = date_in(text);
    return date ? std::string{names[std::chrono::weekday{std::chrono::sys_days{*date}}.c_encoding()]} : std::string{};
}

void more_panel(Touch& touch, const Rect& at, const CheckView& check, const World& world,
                RunDraft& draft, Requests& requests) {
    const Scope scope{touch, "more"};
    switch (draft.mode) {
        case RunMode::More:
            return choose_more(touch, at, check, draft);
        case RunMode::Deferring:
            return defer(touch, at, check, world, draft, requests);
        case RunMode::Conceding:
            return concede(touch, at, check, draft, requests);
        case RunMode::Facts:
            return facts(touch, at, check, world, draft, requests);
        case RunMode::NearMiss:
            return near_miss(touch, at, draft, requests);
        case RunMode::Leaving:
            return leave(touch, at, draft, requests);
        case RunMode::Instrument:
            return instrument(touch, at, check, world, draft, requests);
        case RunMode::Reading:
        case RunMode::Correcting:
        case RunMode::Photo:
        case RunMode::Help:
        case RunMode::Record:
        case RunMode::Stages:
        case RunMode::Plant:
        case RunMode::Parts:
        case RunMode::House:
            return;
    }
}

}  // namespace wm::screens
