#include "desk/in_hand.hpp"

#include <fmt/format.h>

#include "desk/put_off.hpp"
#include "desk/rules.hpp"
#include "desk/ticks.hpp"

namespace wm::desk {

namespace {

checklist::PreUse pre_use_of(const std::string& text) {
    if (text == "passed") return checklist::PreUse::Passed;
    if (text == "failed") return checklist::PreUse::Failed;
    return checklist::PreUse::NotSaid;
}

std::optional<std::string> if_any(const std::string& text) {
    return text.empty() ? std::nullopt : std::optional{text};
}

}  // namespace

std::shared_ptr<const ReadFacts> facts_read(const record::JobState& state) {
    auto read = std::make_shared<ReadFacts>();
    for (const auto& [key, fact] : state.facts) {
        if (is_tick(key)) continue;
        const std::string text = record::shown(fact.value);
        if (auto value = checklist::read_fact(key, text)) read->facts.set(std::move(*value));
    }
    for (const auto& [id, card] : state.instruments)
        read->instruments.push_back({.card = {.id = card.id,
                                              .type = card.type,
                                              .resolution = card.resolution,
                                              .expanded_uncertainty = card.uncertainty,
                                              .calibrated_on = if_any(card.calibrated_on),
                                              .calibration_due = if_any(card.due),
                                              .certificate = card.certificate,
                                              .as_found = card.as_found},
                                     .range = card.range,
                                     .preuse = pre_use_of(card.pre_use_check),
                                     .uncertainty_as_judged = ""});
    return read;
}

const checklist::InstrumentInUse* instrument_named(const JobInHand& job, std::string_view id) {
    for (const auto& instrument : job.instruments())
        if (instrument.card.id == id) return &instrument;
    return nullptr;
}

std::optional<checklist::InstrumentInUse> instrument_for(const JobInHand& job, const std::string& type,
                                                        const std::string& named) {
    if (!named.empty()) {
        const auto* found = instrument_named(job, named);
        return found ? std::optional{*found} : std::nullopt;
    }
    std::optional<checklist::InstrumentInUse> only;
    for (const auto& instrument : job.instruments()) {
        if (instrument.card.type != type) continue;
        if (only) return std::nullopt;
        only = instrument;
    }
    return only;
}

std::vector<checklist::ReadingInput> latest_readings(const JobInHand& job, const checklist::Check& check) {
    std::vector<checklist::ReadingInput> inputs;
    const auto* state = job.state().check(check.id.text);
    if (state == nullptr) return inputs;
    for (const auto& [place, hash] : state->latest) {
        const auto* reading = state->find(hash);
        if (reading == nullptr) continue;
        inputs.push_back({.place = place,
                          .text = record::shown(reading->taken.text),
                          .instrument = instrument_for(job, "", reading->taken.instrument),
                          .photo = reading->taken.photos.empty() ? checklist::PhotoState::Missing
                                                                 : checklist::PhotoState::Attached});
    }
    return inputs;
}

bool asks_leave_first(const checklist::Checklist& list) {
    return !list.checks.empty() && list.checks.front().kind == checklist::Kind::Signature &&
           list.checks.front().signer == "customer";
}

bool counts(const JobInHand& job, const record::SignatureState& signature) {
    if (job.state().is_undone(signature.origin)) return false;
    if (signature.by.role == record::SignRole::Customer && asks_leave_first(*job.list)) return true;
    // What was signed was handed over; what is read of the rest later does not unsign it.
    const auto* handover = first_handover(job.state());
    if (handover != nullptr && signature.origin.order < handover->origin.order) return true;
    return !signature.stale;
}

Result<void> still_open(const JobInHand& job) {
    const auto phase = job.state().phase();
    switch (phase) {
        case record::JobPhase::Open:
        case record::JobPhase::Refused: return {};
        case record::JobPhase::Signed:
        case record::JobPhase::HandedOver:
        case record::JobPhase::Restricted:
        case record::JobPhase::Abandoned: break;
    }
    return refused({fmt::format("The job is {}; nothing can be entered now.", record::in_words(phase)),
                    "job " + job.state().number,
                    phase == record::JobPhase::Signed
                        ? "Undo the signature first; it has to be given again afterwards."
                        : "What was put off may still be entered. For anything else open a revisit or service job after this one.",
                    ProblemKind::Refused});
}

Result<void> is_whole(const JobInHand& job) {
    if (job.damaged.empty()) return {};
    return refused({"Part of the record of this job cannot be read: " + job.damaged.front(),
                    "job " + job.state().number,
                    "Restore the data folder from a backup, or take the entries in from another device.",
                    ProblemKind::Refused});
}

Assessment::Assessment(const JobInHand& job)
    : job_{job},
      context_{.facts = job.facts(),
               .library = *job.library,
               .today = job.today,
               .outcome_of = [this](const checklist::CheckId& id) -> std::optional<measure::Outcome> {
                   const auto* check = job_.list->find(id);
                   if (check == nullptr) return std::nullopt;
                   return of(*check).outcome;
               },
               .answer_of = [this](const checklist::CheckId& id) -> std::optional<std::string> {
                   const auto* state = job_.state().check(id.text);
                   if (state == nullptr) return std::nullopt;
                   const auto* reading = state->standing_at("");
                   if (reading == nullptr) return std::nullopt;
                   return record::shown(reading->taken.text);
               },
               .value_of = [this](const checklist::CheckId& id) { return value_of(id); },
               .earlier_value_of = [this](const checklist::CheckId& id) -> std::optional<units::Amount> {
                   if (!job_.earlier) return std::nullopt;
                   return Assessment{*job_.earlier}.value_of(id);
               }} {}

std::optional<units::Amount> Assessment::value_of(const checklist::CheckId& id) {
    const auto* check = job_.list->find(id);
    const auto* state = job_.state().check(id.text);
    if (check == nullptr || state == nullptr) return std::nullopt;
    for (const auto& reading : latest_readings(job_, *check)) {
        if (check->part_named(reading.place) != nullptr) continue;
        const auto judged = checklist::judge_reading(*check, reading, context_);
        if (judged && judged->measured) return judged->measured;
    }
    return std::nullopt;
}

const Standing& Assessment::of(const checklist::Check& check) {
    const auto found = known_.find(check.id.text);
    if (found != known_.end()) return found->second;
    known_[check.id.text] = Standing{};  // what a circle sees
    Standing standing = work_out(check);
    return known_[check.id.text] = std::move(standing);
}

Standing Assessment::work_out(const checklist::Check& check) {
    Standing standing;
    standing.applies = checklist::applies(check, context_);
    standing.missing_facts = standing.applies.missing.facts;
    if (standing.applies.answer == checklist::Applies::No) {
        standing.outcome = measure::Outcome::NotApplicable;
        standing.why = standing.applies.condition.empty() ? "This check does not apply here."
                                                          : "Does not apply: " + standing.applies.condition + ".";
        return standing;
    }
    if (standing.applies.answer == checklist::Applies::Unknown) {
        // What another check must say first may itself be deferred, and so is this one then.
        const auto* state = job_.state().check(check.id.text);
        if (state != nullptr && state->deferral) {
            standing.outcome = state->outcome;
            standing.why = state->why;
            return standing;
        }
        standing.why = standing.missing_facts.empty()
                           ? "Whether this check applies is not known yet; another check must be done first."
                           : "Whether this check applies is not known yet: a fact is missing.";
        return standing;
    }
    standing.needed = checklist::needed_places(check, context_, latest_readings(job_, check));
    if (check.kind == checklist::Kind::Signature) return by_signature(check, std::move(standing));
    if (check.kind == checklist::Kind::Computed) {
        if (const auto rule = checklist::computed_by_rule(check)) return by_rule(check, *rule, std::move(standing));
        if (const auto judged = checklist::judge_whole(check, {}, context_)) {
            standing.outcome = judged->outcome;
            standing.why = judged->why;
            standing.missing_facts = judged->missing_facts;
            standing.computed = *judged;
        }
        return standing;
    }
    for (const auto& id : check.after) {
        const auto* before = job_.list->find(id);
        if (before == nullptr) continue;
        const auto outcome = of(*before).outcome;
        if (outcome != measure::Outcome::Conforms && outcome != measure::Outcome::NotApplicable)
            standing.waits_for.push_back(id.text);
    }
    const auto* state = job_.state().check(check.id.text);
    if (state != nullptr) {
        standing.outcome = state->outcome;
        standing.why = state->why;
    }
    if (standing.outcome == measure::Outcome::Open) {
        for (const auto& fact : standing.needed.missing.facts) standing.missing_facts.push_back(fact);
        for (const auto& fact : checklist::limits_for(check, "", context_).missing.facts)
            standing.missing_facts.push_back(fact);
        if (standing.why.empty()) standing.why = "No reading yet.";
    }
    return standing;
}

Standing Assessment::by_signature(const checklist::Check& check, Standing standing) {
    RuleAnswer verdict{measure::Outcome::Conforms, "", {}};
    if (checklist::computed_by_rule(check) == checklist::ComputedRule::SurveyVerdict)
        verdict = survey_verdict(by_title(job_, survey_standings()));
    const auto role = check.signer == "customer" ? record::SignRole::Customer : record::SignRole::Crew;
    for (const auto& signature : job_.state().signatures) {
        if (signature.by.role != role || !counts(job_, signature)) continue;
        if (!signature.by.refused) {
            standing.outcome = verdict.outcome;
            standing.why = fmt::format("Signed at {} UTC.", std::string{signature.origin.time}.replace(10, 1, " ").substr(0, 16));
        } else if (check.hold) {
            standing.outcome = measure::Outcome::DoesNotConform;
            standing.why = "The signature was refused; the reason is on record.";
        } else {
            standing.outcome = measure::Outcome::Conforms;
            standing.why = "The signature was refused and the reason is on record.";
        }
        if (!verdict.why.empty()) standing.why = verdict.why + " " + standing.why;
        return standing;
    }
    standing.why = verdict.why.empty() ? "Not signed yet." : verdict.why + " Not signed yet.";
    return standing;
}

Standing Assessment::by_rule(const checklist::Check& check, checklist::ComputedRule rule, Standing standing) {
    RuleAnswer answer;
    switch (rule) {
        case checklist::ComputedRule::CrewLicences: answer = crew_licences(job_); break;
        case checklist::ComputedRule::InstrumentsDue: answer = instruments_due(job_); break;
        case checklist::ComputedRule::KitReady: answer = kit_ready(job_); break;
        case checklist::ComputedRule::OpenItems: answer = open_items(by_title(job_, standings())); break;
        case checklist::ComputedRule::SurveyVerdict: answer = survey_verdict(by_title(job_, survey_standings())); break;
    }
    (void)check;
    standing.outcome = answer.outcome;
    standing.why = answer.why;
    standing.missing_facts = answer.missing_facts;
    return standing;
}

namespace {

/// As it was judged; what people said of it is not in it.
record::CheckStanding row_of(const checklist::Check& check, const Standing& standing) {
    return {.id = check.id.text,
            .hold = check.hold,
            .severity = checklist::letter_of(check.severity).front(),
            .core = check.core,
            .applies = standing.outcome != measure::Outcome::NotApplicable,
            .restricts = check.restricts,
            .outcome = standing.outcome,
            .why = standing.why,
            .deferral = std::nullopt,
            .conceded = false,
            .in_conflict = false,
            .failures_without_correction = 0};
}

}  // namespace

std::vector<record::CheckStanding> Assessment::standings() {
    std::vector<record::CheckStanding> all;
    for (const auto& check : job_.list->checks) {
        if (check.kind == checklist::Kind::Signature) continue;
        const auto rule = checklist::computed_by_rule(check);
        if (rule == checklist::ComputedRule::OpenItems || rule == checklist::ComputedRule::SurveyVerdict) continue;
        const Standing& standing = of(check);
        record::CheckStanding row = row_of(check, standing);
        if (const auto* state = job_.state().check(check.id.text)) {
            if (state->deferral)
                row.deferral = record::DeferralStanding{
                    state->deferral->deferred.until,
                    state->deferral->deferred.owner ? record::shown(*state->deferral->deferred.owner) : ""};
            row.conceded = state->concession.has_value();
            row.in_conflict = !state->conflicts.empty();
            for (const auto& failure : state->failures)
                if (!failure.withdrawn && failure.corrected_by.empty()) ++row.failures_without_correction;
        }
        all.push_back(std::move(row));
    }
    return all;
}

std::vector<record::CheckStanding> Assessment::survey_standings() {
    auto all = standings();
    for (const auto& check : job_.list->checks) {
        if (check.kind != checklist::Kind::Signature || !check.hold) continue;
        if (checklist::computed_by_rule(check) == checklist::ComputedRule::SurveyVerdict) continue;
        const Standing& standing = of(check);
        all.push_back(row_of(check, standing));
    }
    return all;
}

}  // namespace wm::desk
