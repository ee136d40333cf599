// Readings and corrections: judged, kept, answered.
#include <fmt/format.h>

#include <algorithm>

#include "desk/desk.hpp"
#include "desk/judged.hpp"
#include "desk/permission.hpp"
#include "desk/put_off.hpp"
#include "desk/slips.hpp"
#include "desk/usual_reading.hpp"
#include "desk/view_parts.hpp"
#include "digest/text.hpp"
#include "photo/intake.hpp"
#include "photo/position.hpp"
#include "units/reading.hpp"

namespace wm::desk {

namespace {

Problem no_such_check(const std::string& check, const JobInHand& job) {
    return {fmt::format("The checklist \"{}\" has no check \"{}\".", job.list->name, check), "job " + job.state().number,
            fmt::format("Look for it in the list of the checks (witnessmark job show {}).", job.state().number), ProblemKind::Unreadable};
}

Problem no_moment(const std::string& text) {
    return {fmt::format("\"{}\" is no time.", text), "the time of the reading",
            "Write it with its zone, as 2027-03-04T09:10:00+02:00.", ProblemKind::Unreadable};
}

// The one place a correction can mean when none is named.
std::string failed_place(const record::CheckState* state) {
    if (state == nullptr) return "";
    std::string place;
    for (const auto& failure : state->failures) {
        if (failure.withdrawn || !failure.corrected_by.empty()) continue;
        if (!place.empty() && place != failure.place) return "";
        place = failure.place;
    }
    return place;
}

// The failing reading a correction points at; the oldest still uncorrected one of the place.
std::string failing_entry(const record::CheckState* state, const std::string& place) {
    if (state == nullptr) return "";
    for (const auto& failure : state->failures)
        if (failure.place == place && !failure.withdrawn && failure.corrected_by.empty()) return failure.reading;
    return "";
}

bool has_places(const checklist::Check& check) {
    return check.kind == checklist::Kind::Positions || !check.parts.empty();
}

// What stands under the picture. A place that the camera wrote is personal, so it goes where the caption is locked away.
std::string caption_of(const TakeReading& intent, const std::string& title) {
    const auto position = intent.keep_position && intent.photo ? photo::position_of(*intent.photo) : std::nullopt;
    if (!position) return intent.caption;
    return fmt::format("{}, taken at {}", intent.caption.empty() ? title : intent.caption, photo::in_words(*position));
}

using PlacesAndTexts = std::vector<std::pair<std::string, std::string>>;

// What the main reading says with it: before it, so that an undo takes the reading back and not a word beside it.
PlacesAndTexts with_what_is_said(const PlacesAndTexts& read, const checklist::Check& check, const record::CheckState* state) {
    const bool is_main = std::none_of(read.begin(), read.end(), [&](const auto& one) { return check.part_named(one.first) != nullptr; });
    PlacesAndTexts all;
    for (const auto& part : check.parts)
        if (is_main && !part.said.empty() && (state == nullptr || state->standing_at(part.name) == nullptr)) all.emplace_back(part.name, "yes");
    all.insert(all.end(), read.begin(), read.end());
    return all;
}

Result<PlacesAndTexts> places_of(const checklist::Check& check, const TakeReading& intent) {
    if (intent.place.empty() && has_places(check) && check.kind != checklist::Kind::Series &&
        intent.text.find('=') != std::string::npos)
        return checklist::split_positions(check, intent.text);
    return std::vector{std::pair{intent.place, intent.text}};
}

Result<void> enterable(const checklist::Check& check) {
    if (check.kind == checklist::Kind::Computed)
        return refused({"This check is worked out by the tool from facts and other checks; nothing is entered.",
                        "check " + check.id.text, "State the missing facts, or mend the checks it names.",
                        ProblemKind::WrongUse});
    if (check.kind == checklist::Kind::Signature)
        return refused({"This check is a signature.", "check " + check.id.text,
                        "Use sign JOB --as crew or --as customer.", ProblemKind::WrongUse});
    return {};
}

std::string type_for(const checklist::Check& check, const std::string& place) {
    if (const auto* part = check.part_named(place); part != nullptr) return part->instrument.value_or("");
    return check.instrument.value_or("");
}

/// The question about a figure that was read in the unit of another gauge, or empty: both its limits are near each other there, so
/// that hardly any other figure fits.
std::string fits_in_another_unit(const TypedNumber& typed, const units::Unit& unit) {
    if (!typed.low || !typed.high || (typed.value >= *typed.low && typed.value <= *typed.high)) return {};
    for (const std::string_view symbol : {"bar", "kPa", "psi", "°C", "°F"}) {
        const auto other = units::unit_named(symbol);
        if (!other || *other == unit || !(other->dimension == unit.dimension) || (other->scale == units::Scale::Point) != (unit.scale == units::Scale::Point))
            continue;
        const double meant = unit.from_si(other->to_si(typed.value));
        if (meant >= *typed.low && meant <= *typed.high)
            return fmt::format("Look again: {} {} would fit, {} {} does not. Is the unit that of the instrument?", units::print_short(typed.value), symbol,
                               units::print_short(typed.value), unit.symbol);
    }
    return {};
}

/// Asks about what a finger may have done. The fingers slipped in the unit of the instrument, so that is where neighbours are
/// looked for.
void warn_of_slips(Preview& preview, const JobInHand& hand, const checklist::Check& check, const TakeReading& intent,
                   const checklist::Judged& judged, const checklist::Context& context) {
    const auto* part = check.part_named(intent.place);
    const auto kind = part != nullptr ? part->kind : check.kind;
    const bool is_number = kind == checklist::Kind::Quantity || (kind == checklist::Kind::Positions && check.entry == checklist::EntryForm::Number);
    const auto unit = part != nullptr ? part->unit : check.unit;
    if (!is_number || !unit) return;
    const auto entered = units::read_amount(intent.text, *unit, "reading");
    if (!entered) return;
    const auto digits = std::string_view{intent.text}.substr(0, intent.text.find_first_not_of("0123456789.,+-"));
    TypedNumber typed{.text = digits,
                      .value = entered->value,
                      .low = std::nullopt,
                      .high = std::nullopt,
                      .plausible_low = std::nullopt,
                      .plausible_high = std::nullopt,
                      .usual = std::nullopt,
                      .decimals = std::nullopt};
    const auto in_own = [&](double value) { return entered->unit.from_si(unit->to_si(value)); };
    const bool is_worked_out = check.measurand && part == nullptr;
    // The limits of what is worked out from a figure are not those of the figure.
    if (!is_worked_out) {
        if (judged.limits.low) typed.low = judged.limits.low->in(entered->unit);
        if (judged.limits.high) typed.high = judged.limits.high->in(entered->unit);
    }
    if (const auto& plausible = part != nullptr ? part->plausible : check.plausible) {
        typed.plausible_low = in_own(plausible->low);
        typed.plausible_high = in_own(plausible->high);
    }
    if (!is_worked_out || judged.outcome != Outcome::Conforms) {
        const auto usual = usual_reading({*hand.list, check, intent.place, judged.limits, latest_readings(hand, check)}, context);
        if (usual) typed.usual = in_own(*usual);
    }
    if (entered->unit == *unit) typed.decimals = part != nullptr ? part->decimals : check.decimals;
    preview.warnings = slips_in(typed);
    if (!preview.warnings.empty())
        if (auto other = fits_in_another_unit(typed, entered->unit); !other.empty()) preview.warnings = {std::move(other)};
    if (may_part_thousands(digits)) {
        std::string whole{digits};
        std::erase_if(whole, [](char sign) { return sign == '.' || sign == ','; });
        preview.warnings.insert(preview.warnings.begin(),
                                fmt::format("\"{}\" is read as {} {}. If {} {} is meant, type it without the mark.", digits,
                                            units::print_short(typed.value), entered->unit.symbol, whole, entered->unit.symbol));
    }
    preview.needs_sure = preview.needs_sure || !preview.warnings.empty();
}

}  // namespace

Result<std::vector<Answer>> Desk::carry_out(const TakeReading& intent) { return record_reading(intent, nullptr); }

Result<std::vector<Answer>> Desk::carry_out(const CorrectFault& intent) {
    if (intent.done.empty())
        return refused({"It is not said what was done.", "correct " + intent.reading.check,
                        "Write --done \"what was done\".", ProblemKind::WrongUse});
    return record_reading(intent.reading, &intent.done);
}

Result<std::vector<Answer>> Desk::record_reading(const TakeReading& intent, const std::string* done, const std::string* evidence) {
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    const auto* check = hand->list->find(checklist::CheckId{intent.check});
    if (check == nullptr) return refused(no_such_check(intent.check, *hand));
    if (const auto fine = enterable(*check); !fine) return tl::unexpected(fine.error());
    if (const auto open = open_for(*hand, intent.check); !open) return tl::unexpected(open.error());
    // What was put off is read by the instruments of its own day.
    if (hand->state().handover) hand->today = day_of(setup_.now());
    if (!intent.read_at.empty()) {
        const auto moment = read_moment(intent.read_at);
        if (!moment) return refused(no_moment(intent.read_at));
        // Instruments are judged by the day they were read on.
        hand->today = day_of(*moment);
    }
    if (!intent.instrument.empty() && instrument_named(*hand, intent.instrument) == nullptr)
        return refused({fmt::format("The instrument \"{}\" is not registered for this job.", intent.instrument),
                        fmt::format("job {}, check {}", intent.job, intent.check),
                        "Register it as [[inst]] in the facts file, or name one that is.", ProblemKind::Unreadable});

    const auto* state = hand->state().check(intent.check);
    TakeReading asked = intent;
    if (done != nullptr && asked.place.empty() && asked.text.find('=') == std::string::npos)
        asked.place = failed_place(state);
    auto places = places_of(*check, asked);
    if (!places) return tl::unexpected(places.error());
    const std::size_t read = places->size();
    if (asked.said && done == nullptr) places = with_what_is_said(*places, *check, state);
    const std::size_t said = places->size() - read;

    std::optional<photo::Photo> picture;
    if (intent.photo) {
        auto taken = photo::take_in(*intent.photo, intent.photo_name);
        if (!taken) return tl::unexpected(taken.error());
        picture = std::move(*taken);
    }

    Assessment assessment{*hand};
    const auto& standing = assessment.of(*check);
    std::vector<checklist::ReadingInput> pending;
    std::vector<PlaceReading> judged;
    for (const auto& [place, text] : *places) {
        const std::string type = type_for(*check, place);
        // No instrument shows what is said.
        const bool shown = judged.size() >= said && !(type.empty() && intent.instrument.empty());
        const auto instrument = !shown
                                    ? std::nullopt
                                    : instrument_for(*hand, type, intent.instrument);
        auto reading = judge_place(assessment, *check,
                                   {.place = place,
                                    .text = digest::composed(text),
                                    .instrument = instrument,
                                    .photo = picture ? checklist::PhotoState::Attached : checklist::PhotoState::Missing});
        if (!reading) return tl::unexpected(reading.error());
        if (reading->judged.outside_plausible && !intent.sure)
            return refused({fmt::format("{} is outside what is plausible for {}.", text, check->title),
                            fmt::format("job {}, check {}", intent.job, intent.check),
                            "Look again. If it is so, enter it with --sure.", ProblemKind::Unreadable});
        if (done != nullptr && failing_entry(state, place).empty())
            return refused({"There is nothing to correct: no reading of this check failed here without a correction.",
                            fmt::format("job {}, check {}", intent.job, intent.check),
                            "Enter it as a first or a further reading instead.", ProblemKind::Refused});
        judged.push_back(std::move(*reading));
    }

    std::vector<record::Attached> photos;
    if (picture) {
        auto kept = journal_.keep(hand->state().opened->customer, picture->jpeg, "image/jpeg", picture->look);
        if (!kept) return tl::unexpected(kept.error());
        if (auto words = caption_of(intent, check->title); !words.empty())
            kept->caption = record::Personal{"", digest::composed(words)};
        photos.push_back(std::move(*kept));
    }

    std::vector<record::Draft> drafts;
    for (const auto& reading : judged) {
        const bool free_words = check->kind == checklist::Kind::Text || check->kind == checklist::Kind::Photo;
        record::ReadingTaken taken{
            .check = intent.check,
            .place = reading.input.place,
            .text = free_words ? record::Words{record::Personal{"", reading.input.text}}
                               : record::Words{reading.input.text},
            .instrument = reading.input.instrument ? reading.input.instrument->card.id : "",
            .photos = drafts.size() < said ? std::vector<record::Attached>{} : photos,
            .read_at = intent.read_at.empty() ? text_of(setup_.now()) : intent.read_at,
            .by = intent.by.empty() ? author(setup_, hand->facts().word("crew.lead").value_or("crew")) : intent.by,
            .judged = recorded(assessment, *check, reading, pending),
            .out_of_order = standing.waits_for};
        pending.push_back(reading.input);
        if (done == nullptr) {
            drafts.push_back({intent.job, std::move(taken)});
            continue;
        }
        const std::string failing = failing_entry(state, reading.input.place);
        drafts.push_back({intent.job, record::FaultCorrected{.reading = std::move(taken),
                                                             .corrects = failing,
                                                             .done = {"", digest::composed(*done)}}});
    }
    const std::size_t before = evidence == nullptr ? 0 : 1;
    if (evidence != nullptr)
        drafts.insert(drafts.begin(), {intent.job, record::NoteMade{.text = {"", digest::composed(*evidence)},
                                                                    .check = intent.check,
                                                                    .by = author(setup_, hand->facts().word("crew.lead").value_or("crew"))}});
    const auto written = append(*hand, std::move(drafts));
    if (!written) return tl::unexpected(written.error());

    hand->today = day_of(setup_.now());
    Assessment now{*hand};
    const auto& whole = now.of(*check);
    std::vector<Answer> answers;
    for (std::size_t i = 0; i < judged.size() && before + i < written->size(); ++i) {
        const auto& own = judged[i].judged;
        answers.push_back({.check = intent.check,
                           .place = judged[i].input.place,
                           .outcome = whole.outcome,
                           .place_outcome = own.outcome,
                           .why = own.why,
                           .probability_conforming = own.probability,
                           .entry = (*written)[before + i].hash,
                           .blocked_by = standing.waits_for,
                           .no_evidence = own.outcome == Outcome::Open && own.missing_facts.empty() &&
                                          own.waits_for.empty() && judged[i].input.instrument.has_value()});
    }
    return answers;
}

Result<Preview> Desk::preview(const TakeReading& intent) {
    const auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    const auto* check = hand->list->find(checklist::CheckId{intent.check});
    if (check == nullptr) return refused(no_such_check(intent.check, *hand));
    Assessment assessment{*hand};
    const std::string type = type_for(*check, intent.place);
    const auto instrument =
        type.empty() && intent.instrument.empty() ? std::nullopt : instrument_for(*hand, type, intent.instrument);
    Preview preview;
    preview.limits = limits_view(checklist::limits_for(*check, intent.place, assessment.context(), instrument));
    if (intent.text.empty()) return preview;
    const auto reading = judge_place(assessment, *check,
                                     {.place = intent.place,
                                      .text = intent.text,
                                      .instrument = instrument,
                                      .photo = intent.photo ? checklist::PhotoState::Attached
                                                            : checklist::PhotoState::Missing});
    if (!reading) return tl::unexpected(reading.error());
    const auto& judged = reading->judged;
    preview.outcome = judged.outcome;
    preview.why = judged.why;
    // The main figure alone may be right while the check, with what was read at its parts, is not.
    if (intent.place.empty() && !check->parts.empty() && judged.outcome == Outcome::Conforms) {
        const auto whole = recorded(assessment, *check, *reading, {});
        if (whole.outcome == Outcome::DoesNotConform || whole.outcome == Outcome::Inconclusive) {
            preview.outcome = whole.outcome;
            preview.why = whole.why;
        }
    }
    preview.limits = limits_view(judged.limits);
    preview.needs_sure = judged.outside_plausible;
    if (judged.trend)
        preview.trend = TrendView{judged.trend->drop,         judged.trend->low,     judged.trend->high,
                                  judged.trend->surely_below, judged.trend->allowed, judged.trend->words};
    if (judged.measured && judged.limits.unit) preview.value = judged.measured->in(*judged.limits.unit);
    warn_of_slips(preview, *hand, *check, intent, judged, assessment.context());
    if (judged.outside_plausible) preview.warnings.push_back("This is outside what is plausible here. Is it so?");
    return preview;
}

}  // namespace wm::desk
