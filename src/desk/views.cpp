// From the state of jobs to what screens and commands show.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "checklist/plain_expression.hpp"
#include "desk/beforehand.hpp"
#include "desk/by_hand.hpp"
#include "desk/day_plan.hpp"
#include "desk/desk.hpp"
#include "desk/devices.hpp"
#include "desk/judged.hpp"
#include "desk/part_questions.hpp"
#include "desk/permission.hpp"
#include "desk/plant_shape.hpp"
#include "desk/put_off.hpp"
#include "desk/ticks.hpp"
#include "desk/view_parts.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

// Turning kelvin into °C leaves 37.99999999999999; nobody measures more than twelve digits.
double without_rounding_dust(double value) {
    if (value == 0.0 || !std::isfinite(value)) return value;
    const double scale = std::pow(10.0, 11.0 - std::floor(std::log10(std::abs(value))));
    return std::isfinite(scale) && scale > 0.0 ? std::round(value * scale) / scale : value;
}

std::optional<double> in_unit(const std::optional<units::Amount>& amount, const std::optional<units::Unit>& unit) {
    if (!amount) return std::nullopt;
    return without_rounding_dust(unit ? amount->in(*unit) : amount->si);
}

std::string shown_if_any(const std::optional<record::Personal>& words) {
    return words ? record::shown(*words) : "";
}

EntryForm form_of(checklist::Kind kind, checklist::EntryForm entry) {
    switch (kind) {
        case checklist::Kind::Confirm: return EntryForm::YesNo;
        case checklist::Kind::Choice: return EntryForm::Choice;
        case checklist::Kind::Quantity: return EntryForm::Number;
        case checklist::Kind::Positions:
            switch (entry) {
                case checklist::EntryForm::Number: return EntryForm::Number;
                case checklist::EntryForm::Confirm: return EntryForm::YesNo;
                case checklist::EntryForm::Choice: return EntryForm::Choice;
            }
            return EntryForm::Number;
        case checklist::Kind::Series: return EntryForm::Series;
        case checklist::Kind::Text: return EntryForm::Text;
        case checklist::Kind::Photo: return EntryForm::Photo;
        case checklist::Kind::Signature: return EntryForm::Signature;
        case checklist::Kind::Computed: return EntryForm::None;
    }
    return EntryForm::None;
}

ReadingView reading_view(const record::CheckState& state, const record::Reading& reading) {
    const auto& taken = reading.taken;
    ReadingView view{.entry = reading.origin.entry,
                     .text = record::shown(taken.text),
                     .value = std::nullopt,
                     .unit = reading.judged().unit,
                     .place = taken.place,
                     .instrument = taken.instrument,
                     .at = taken.read_at,
                     .by = taken.by,
                     .corrects = reading.correction ? reading.correction->corrects : "",
                     .outcome = reading.judged().place_outcome,
                     .why = reading.judged().place_why,
                     .done = reading.correction ? record::shown(reading.correction->done) : "",
                     .photos = {},
                     .superseded = false,
                     .undone = reading.undone_by.has_value(),
                     .out_of_order = !taken.out_of_order.empty(),
                     .blocked_by = taken.out_of_order};
    for (const auto& photo : taken.photos) view.photos.push_back(photo.id);
    const auto* standing = state.standing_at(taken.place);
    view.superseded = standing == nullptr || standing->origin.entry != reading.origin.entry;
    return view;
}

// The number of a reading in the unit of its check, where it is one number.
void fill_values(CheckView& view, const checklist::Check& check) {
    for (auto& reading : view.readings) {
        std::optional<units::Unit> unit = check.unit;
        if (const auto* part = check.part_named(reading.place); part != nullptr) unit = part->unit;
        if (!unit) continue;
        reading.unit = unit->symbol;
        if (const auto entered = units::read_amount(reading.text, *unit, "")) reading.value = entered->amount().in(*unit);
    }
}

InstrumentView instrument_view(const checklist::InstrumentInUse& instrument, const std::string& today) {
    return {.id = instrument.card.id,
            .type = instrument.card.type,
            .label = fmt::format("{} ({})", instrument.card.id, instrument.card.type),
            .due = instrument.card.calibration_due.value_or(""),
            .uncertainty = instrument.card.expanded_uncertainty,
            .in_date = measure::is_in_date(instrument.card, today) &&
                       instrument.preuse != checklist::PreUse::Failed};
}

void add_instruments(std::vector<InstrumentView>& to, const JobInHand& job, const std::string& type) {
    for (const auto& instrument : job.instruments())
        if (!type.empty() && instrument.card.type == type) to.push_back(instrument_view(instrument, job.today));
}

PlaceView place_view(Assessment& assessment, const checklist::Check& check, const std::string& name, bool required) {
    const auto* part = check.part_named(name);
    PlaceView view;
    view.name = name;
    view.required = required;
    view.question = part ? part->question : "";
    if (part != nullptr) {
        view.instrument_type = part->instrument.value_or("");
        add_instruments(view.instruments, assessment.job(), view.instrument_type);
    }
    view.form = part ? form_of(part->kind, checklist::EntryForm::Number) : form_of(check.kind, check.entry);
    const auto unit = part ? part->unit : check.unit;
    if (unit) view.unit = unit->symbol;
    view.accepted = part ? part->accept : check.accept;
    view.refused = part ? part->refuse : check.refuse;
    view.limits = limits_view(checklist::limits_for(check, name, assessment.context()));
    if (const auto* state = assessment.job().state().check(check.id.text)) {
        if (const auto* reading = state->standing_at(name)) {
            view.outcome = reading->judged().place_outcome;
            view.why = reading->judged().place_why;
            view.text = record::shown(reading->taken.text);
        }
    }
    if (part != nullptr && view.text.empty()) view.said = part->said;
    return view;
}

void add_places(CheckView& view, Assessment& assessment, const checklist::Check& check, const Standing& standing) {
    auto needed = standing.needed.places;
    const bool positions = check.kind == checklist::Kind::Positions;
    if (positions || !check.parts.empty())
        for (const auto& place : needed) view.places.push_back(place_view(assessment, check, place, true));
    const auto latest = latest_readings(assessment.job(), check);
    // What is said with the main reading stands beside it, before what is only wanted.
    std::vector<const checklist::Part*> parts;
    for (const bool is_said : {true, false})
        for (const auto& part : check.parts)
            if (part.said.empty() != is_said) parts.push_back(&part);
    for (const auto* each : parts) {
        const auto& part = *each;
        if (std::find(needed.begin(), needed.end(), part.name) != needed.end()) continue;
        // What does not belong to this house or this answer is not shown; what was read of it stays in sight.
        const bool read = std::any_of(latest.begin(), latest.end(), [&](const auto& r) { return r.place == part.name; });
        if (!read && checklist::part_applies(check, part, assessment.context(), latest).answer != checklist::Applies::Yes) continue;
        view.places.push_back(place_view(assessment, check, part.name, false));
    }
    // With nothing beside it the main answer needs no place of its own.
    if (!positions && view.places.size() == 1 && view.places.front().name.empty()) view.places.clear();
}

void add_state(CheckView& view, const checklist::Check& check, const record::CheckState& state) {
    for (const auto& reading : state.readings) view.readings.push_back(reading_view(state, reading));
    fill_values(view, check);
    view.failed_once = std::any_of(state.failures.begin(), state.failures.end(),
                                   [](const record::Failure& failure) { return !failure.withdrawn; });
    view.uncorrected = static_cast<int>(state.failures_without_correction());
    view.conflict = !state.conflicts.empty();
    if (state.deferral)
        view.deferral = DeferralView{state.deferral->deferred.until, shown_if_any(state.deferral->deferred.owner),
                                     record::shown(state.deferral->deferred.why)};
    if (state.concession)
        view.concession = fmt::format("{} ({})", record::shown(state.concession->conceded.why),
                                      state.concession->conceded.by);
    const auto* standing = state.standing_at("");
    if (standing == nullptr && !state.latest.empty()) standing = state.find(state.latest.begin()->second);
    if (standing != nullptr)
        if (const auto p = units::read_number(standing->judged().probability)) view.probability_conforming = *p;
}

}  // namespace

LimitsView limits_view(const checklist::Limits& limits) {
    return {.text = limits.text,
            .unit = limits.unit ? std::string{limits.unit->symbol} : "",
            .low = in_unit(limits.low, limits.unit),
            .high = in_unit(limits.high, limits.unit),
            .accept_low = in_unit(limits.accept_low, limits.unit),
            .accept_high = in_unit(limits.accept_high, limits.unit),
            .target = in_unit(limits.target, limits.unit),
            .rule = std::string{measure::in_words(limits.rule)},
            .how = limits.derivation};
}

CheckView check_view(Assessment& assessment, const checklist::Check& check) {
    const auto& job = assessment.job();
    const Standing standing = assessment.of(check);
    CheckView view;
    view.id = check.id.text;
    view.stage = check.stage;
    view.title = check.title;
    view.question = check.question;
    view.why_it_matters = check.why;
    view.how = check.how;
    view.pitfall = check.pitfall;
    view.on_fail = check.on_fail;
    view.evidence = check.evidence;
    view.kind = checklist::in_words(check.kind);
    view.form = form_of(check.kind, check.entry);
    view.core = check.core;
    view.hold = check.hold;
    view.applies = standing.outcome != Outcome::NotApplicable;
    view.severity = checklist::letter_of(check.severity);
    view.licence = check.licence;
    for (const auto& id : check.cautions)
        if (const auto* caution = job.library->caution_named(id))
            view.cautions.push_back({caution->id, caution->title,
                                     caution->refer ? caution->text + " " + job.library->caution_tail : caution->text});
    for (const auto& mark : check.sources) view.sources.push_back(checklist::source_in_words(*job.library, mark));
    view.outcome = standing.outcome;
    view.why = standing.why;
    view.limits = standing.computed ? limits_view(standing.computed->limits)
                                    : limits_view(checklist::limits_for(check, "", assessment.context()));
    if (standing.computed) view.probability_conforming = standing.computed->probability;
    if (check.unit) view.unit = check.unit->symbol;
    view.decimals = check.decimals.value_or(1);
    if (check.plausible) {
        view.plausible_low = check.plausible->low;
        view.plausible_high = check.plausible->high;
    }
    view.instrument_type = check.instrument.value_or("");
    add_instruments(view.instruments, job, view.instrument_type);
    add_places(view, assessment, check, standing);
    view.accepted = check.accept;
    view.refused = check.refuse;
    if (check.series) {
        view.channels = check.series->channels;
        for (const auto& extra : check.series->extras) view.extras.push_back(extra.name);
        if (check.series->every) view.every_s = static_cast<int>(check.series->every->si + 0.5);
        if (check.series->duration) view.duration_s = static_cast<int>(check.series->duration->si + 0.5);
    }
    if (check.measurand) view.measurand = checklist::number_in_words(*check.measurand, {assessment.context(), {}, nullptr});
    view.waits_for = standing.waits_for;
    view.missing_facts = standing.missing_facts;
    // What a part that must be answered is held against belongs to it as well.
    for (const auto& part : check.parts) {
        const auto shown = std::find_if(view.places.begin(), view.places.end(), [&](const auto& place) { return place.name == part.name; });
        if (shown == view.places.end() || !shown->required || shown->outcome != Outcome::Open) continue;
        for (const auto& fact : checklist::limits_for(check, part.name, assessment.context()).missing.facts)
            view.missing_facts.push_back(fact);
    }
    switch (check.photo) {
        case checklist::PhotoWish::None: view.photo = "none"; break;
        case checklist::PhotoWish::Wanted: view.photo = "wanted"; break;
        case checklist::PhotoWish::Required: view.photo = "required"; break;
    }
    view.defer_reasons = check.defer_reasons;
    view.defer_days = check.defer_days.value_or(0);
    if (const auto* state = job.state().check(check.id.text)) add_state(view, check, *state);
    view.may_be_conceded = check.severity != checklist::Severity::Hurts &&
                           (view.outcome == Outcome::DoesNotConform || view.outcome == Outcome::Inconclusive);
    std::sort(view.missing_facts.begin(), view.missing_facts.end());
    view.missing_facts.erase(std::unique(view.missing_facts.begin(), view.missing_facts.end()),
                             view.missing_facts.end());
    for (const auto& key : view.missing_facts) {
        const auto* spec = checklist::fact_named(key);
        view.missing_words.push_back(spec ? std::string{spec->meaning} : key);
    }
    return view;
}

std::string fact_text(const record::JobState& state, std::string_view key) {
    const auto* words = state.fact(key);
    return words ? record::shown(*words) : "";
}

std::string place_of(const record::JobState& state) {
    const std::string street = fact_text(state, "site.street");
    return street.empty() ? fact_text(state, "site.zone") : street;
}

const CheckView* check_named(const JobView& view, std::string_view id) {
    for (const auto& check : view.checks)
        if (check.id == id) return &check;
    return nullptr;
}

JobRow job_row(const record::JobState& state, int zone_minutes) {
    JobRow row{.job = state.number,
               .checklist = state.opened ? state.opened->checklist : "",
               .kind = state.opened ? state.opened->kind : "",
               .place = place_of(state),
               .crew = fact_text(state, "crew.lead"),
               .started = local_text(state.opened_at, zone_minutes),
               .state = std::string{record::in_words(state.phase())},
               .customer = fact_text(state, "customer.name"),
               .open = 0,
               .failed = 0,
               .practice = state.opened && state.opened->practice,
               .after = state.opened ? state.opened->after_job : "",
               .due = {},
               .complaints = 0,
               .complaints_open = 0,
               .day = {}};
    if (row.state == "open" && !row.practice) row.day = fact_text(state, planned_day);
    // Practice makes no duty: nobody has to go to a house that is not there.
    if (const auto due = due_checks(state); !due.empty() && !row.practice) row.due = due.front().until;
    for (const auto& [id, check] : state.checks)
        if (check.outcome == Outcome::DoesNotConform || check.outcome == Outcome::Inconclusive) ++row.failed;
    for (const auto* complaint : state.standing_complaints()) {
        ++row.complaints;
        if (state.closing_of(*complaint) == nullptr) ++row.complaints_open;
    }
    return row;
}

namespace {

/// Which of the readings bear a time that no clock gave, or another than that of their entry.
void add_times(CheckView& view, const record::JobState& job, int zone_minutes) {
    const auto* state = job.check(view.id);
    if (state == nullptr) return;
    for (auto& reading : view.readings) {
        const auto* read = state->find(reading.entry);
        if (read == nullptr) continue;
        reading.time_by_hand = job.by_hand.contains(reading.entry);
        if (is_dated_apart(*read)) reading.entered_at = local_text(read->origin.time, zone_minutes);
    }
}

}  // namespace

JobView view_of(const JobInHand& hand, Moment now, const std::string& head) {
    Assessment assessment{hand};
    JobView view;
    view.row = job_row(hand.state(), now.zone_minutes);
    view.checklist_version = std::to_string(hand.state().opened->checklist_version);
    view.checklist_hash = hand.state().opened->checklist_hash;
    for (const auto& [key, fact] : hand.state().facts) {
        if (is_tick(key)) continue;
        const auto* spec = checklist::fact_named(key);
        const auto text = record::shown(fact.value);
        const bool bare = spec != nullptr && units::read_number(text).has_value();
        view.facts.push_back({key, text, spec ? std::string{spec->meaning} : "", spec != nullptr && spec->personal,
                              bare ? std::string{spec->unit} : ""});
    }
    for (const auto& spec : checklist::fact_table())
        if (!hand.facts().knows(spec.key))
            view.unknown_facts.push_back({std::string{spec.key}, "", std::string{spec.meaning}, spec.personal, std::string{spec.unit},
                                          spec.type == checklist::FactType::YesNo ? std::vector<std::string>{"yes", "no"} : spec.choice_words()});
    view.plant = plant_shape(hand.facts(), hand.state());
    for (const auto& stage : hand.list->stages)
        view.stages.push_back({stage.id, stage.title, stage.minutes.value_or(0), 0, 0});
    const auto standings = assessment.standings();
    for (const auto& blocker : record::blockers(standings))
        view.blockers.push_back({blocker.check, std::string{measure::in_words(blocker.outcome)}, blocker.why});
    view.restrictions = record::restrictions(standings);
    for (const auto& check : hand.list->checks) {
        view.checks.push_back(check_view(assessment, check));
        view.checks.back().beforehand = beforehand(assessment, check, now);
        add_times(view.checks.back(), hand.state(), now.zone_minutes);
        auto& shown = view.checks.back();
        shown.blocking = std::any_of(view.blockers.begin(), view.blockers.end(),
                                     [&](const BlockerView& b) { return b.check == shown.id; });
        if (!shown.applies) continue;
        for (auto& stage : view.stages) {
            if (stage.id != shown.stage) continue;
            ++stage.total;
            if (shown.outcome == Outcome::Conforms || shown.outcome == Outcome::Deferred) ++stage.done;
        }
        if (shown.outcome == Outcome::Open && (shown.core || shown.hold)) ++view.row.open;
    }
    for (const auto& signature : hand.state().signatures) {
        if (!counts(hand, signature)) continue;
        view.signatures.push_back({signature.by.role == record::SignRole::Crew ? "crew" : "customer",
                                   record::shown(signature.by.name), local_text(signature.origin.time, now.zone_minutes),
                                   signature.by.refused ? record::shown(*signature.by.refused) : ""});
    }
    for (const auto& sentence : hand.damaged) view.questions.push_back("A part of the record cannot be read: " + sentence);
    for (const auto& [key, value] : hand.facts().all())
        if (const auto question = checklist::question_about(value)) view.questions.push_back(question->words);
    for (const auto& jump : hand.state().jumps_meanwhile())
        view.questions.push_back(fmt::format("The clock of the device jumped from {} to {}.", jump.from, jump.to));
    view.times = sentences_on_times(hand.state());
    view.times_by_hand = static_cast<int>(hand.state().by_hand.size());
    for (const auto& [origin, taken] : hand.state().taken_over)
        view.taken_over.push_back({taken.by, taken.from, local_text(origin.time, now.zone_minutes)});
    for (const auto& [origin, note] : hand.state().notes)
        if (note.check.empty()) view.notes.push_back(record::shown(note.text));
    view.head = head;
    if (hand.state().handover) {
        view.report_sha256 = hand.state().handover->handed.pdf_sha256;
        view.handed_over_at = local_text(hand.state().handover->origin.time, now.zone_minutes);
        view.supplement_due = has_news(hand.state());
    }
    return view;
}

Result<std::vector<DueView>> Desk::due() {
    const auto states = all_states();
    if (!states) return tl::unexpected(states.error());
    const std::string today = day_of(setup_.now());
    std::vector<DueView> all;
    for (const auto& state : *states) {
        if (!state.opened || state.opened->practice) continue;
        const auto due = due_checks(state);
        if (due.empty()) continue;
        const auto library = library_of(state.opened->checklist_hash);
        const auto* list = library ? (*library)->checklist_named(state.opened->checklist) : nullptr;
        for (const auto& each : due) {
            const auto* check = list != nullptr ? list->find(checklist::CheckId{each.check}) : nullptr;
            all.push_back({.job = state.number, .place = place_of(state), .check = each.check,
                           .title = check != nullptr ? check->title : each.check, .until = each.until,
                           .owner = each.owner, .why = each.why,
                           .days = static_cast<int>(days_between(today, each.until).value_or(0))});
        }
    }
    std::stable_sort(all.begin(), all.end(), [](const DueView& a, const DueView& b) { return a.until < b.until; });
    return all;
}

Result<JobView> Desk::job_view(const std::string& job) {
    const auto hand = in_hand(job);
    if (!hand) return tl::unexpected(hand.error());
    auto view = view_of(*hand, setup_.now(), journal_.head().hash);
    auto strangers = words_on_strangers(*this, hand->state());
    if (!strangers) return tl::unexpected(strangers.error());
    view.strangers = std::move(*strangers);
    view.questions.insert(view.questions.end(), view.strangers.begin(), view.strangers.end());
    ask_about_parts(*this, *hand, view);
    view.with = with_another(setup_, hand->state()).value_or("");
    return view;
}

}  // namespace wm::desk
