// Judging answers of every kind.
#include "checklist/judge_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "checklist/bounds.hpp"
#include "checklist/heat_gain.hpp"
#include "checklist/judge_number.hpp"
#include "checklist/judge_words.hpp"
#include "checklist/plain_expression.hpp"
#include "checklist/trend.hpp"
#include "checklist/types.hpp"
#include "checklist/words.hpp"

namespace wm::checklist {
namespace {

using units::Amount;

bool contains(const std::vector<std::string>& list, const std::string& item) {
    return std::find(list.begin(), list.end(), item) != list.end();
}

Judged judge_confirmation(bool yes, std::string_view question) {
    if (yes) return judged_as(Outcome::Conforms, "Confirmed with yes.");
    return judged_as(Outcome::DoesNotConform, fmt::format("Answered with no: {}", question));
}

Judged judge_choice(const Check& check, const std::vector<std::string>& accept,
                    const std::string& word, const Given& given) {
    if (!contains(accept, word))
        return judged_as(
            Outcome::DoesNotConform,
            fmt::format("\"{}\" is not accepted; accepted is {}.", word, quoted(accept)));
    const auto condition = check.accept_when.find(word);
    if (condition == check.accept_when.end())
        return judged_as(Outcome::Conforms, fmt::format("\"{}\" is an accepted answer.", word));
    const auto holds = is_true(condition->second, condition->second.root(), given);
    Judged judged;
    if (!holds) {
        leave_open(judged, holds.error());
        return judged;
    }
    const auto words = condition_in_words(condition->second, given.context.facts);
    if (*holds)
        return judged_as(Outcome::Conforms,
                         fmt::format("\"{}\" is accepted here, since {}.", word, words));
    return judged_as(Outcome::DoesNotConform,
                     fmt::format("\"{}\" is accepted only if {}.", word, words));
}

Judged judge_text(const Expression* tolerance, const std::string& text, const Given& given) {
    if (tolerance == nullptr)
        return judged_as(Outcome::Conforms, "Written down; nothing more is demanded.");
    Given with_text = given;
    with_text.names.insert_or_assign("reading", text);
    const auto holds = is_true(*tolerance, tolerance->root(), with_text);
    Judged judged;
    if (!holds) {
        leave_open(judged, holds.error());
        return judged;
    }
    const auto words = condition_in_words(*tolerance, given.context.facts);
    if (*holds) return judged_as(Outcome::Conforms, fmt::format("As demanded, {}.", words));
    return judged_as(Outcome::DoesNotConform, fmt::format("Demanded is that {}.", words));
}

Judged judge_photo(const ReadingInput& reading, const Answer& answer, const std::string& photo_of) {
    if (!answer.yes.value_or(true))
        return judged_as(Outcome::DoesNotConform,
                         fmt::format("The photo does not show what is asked for: {}.", photo_of));
    if (reading.photo == PhotoState::Missing)
        return judged_as(Outcome::Open, fmt::format("The photo is still missing: {}.", photo_of));
    return judged_as(Outcome::Conforms, fmt::format("The photo is there: {}.", photo_of));
}

bool is_outside(const std::optional<PlausibleRange>& range, const Amount& amount,
                const units::Unit& unit) {
    if (!range) return false;
    constexpr double last_digit = 1e-9;
    const double value = amount.in(unit);
    return value < range->low - last_digit || value > range->high + last_digit;
}

// The conditions without which the reading proves nothing.
std::optional<Judged> judge_validity(const Check& check, const Given& given) {
    for (const auto& validity : check.valid_when) {
        const auto holds = is_true(validity.condition, validity.condition.root(), given);
        Judged judged;
        if (!holds) {
            leave_open(judged, holds.error());
            return judged;
        }
        if (!*holds) return judged_as(Outcome::Inconclusive, validity.words);
    }
    return std::nullopt;
}

void copy_number(Judged& to, const Judged& from) {
    to.limits = from.limits;
    to.measured = from.measured;
    to.uncertainty = from.uncertainty;
    to.outside_plausible = from.outside_plausible;
}

// A measured number with validity, further conditions and bands; `entered` is what was read, `entered_in` its unit.
Judged judge_measured(const Check& check, const Amount& entered, const std::optional<units::Unit>& entered_in, Given given,
                      const std::optional<InstrumentInUse>& instrument) {
    Amount measured = entered;
    if (check.measurand) {
        given.names.insert_or_assign("reading", entered);
        if (check.kind == Kind::Series) given.names.erase("reading");
        const auto worked_out = amount_of(*check.measurand, check.measurand->root(), given);
        if (!worked_out) {
            Judged judged;
            leave_open(judged, worked_out.error());
            return judged;
        }
        measured = *worked_out;
    }
    auto of = number_case(check);
    // What is judged may have another unit than what is read, and nobody chose that one.
    if (entered_in && !(*entered_in == check.unit.value_or(units::Unit{}))) say_in(of, entered_in);
    given.names.insert_or_assign("reading", measured);
    const auto doubt =
        doubt_of(of.doubt, instrument, of.doubt.as == ReadAs::Difference ? measured : entered,
                 given.context);
    given.names.insert_or_assign("uncertainty", doubt.expanded);
    auto judged = judge_number(of, measured, entered, given, instrument);
    if (!doubt.not_evidence.empty()) return judged;
    if (check.series) {
        for (const auto& further : check.series->also) {
            const auto holds = is_true(further, further.root(), given);
            Judged found;
            if (!holds)
                leave_open(found, holds.error());
            else if (!*holds)
                found = judged_as(Outcome::DoesNotConform,
                                  fmt::format("It does not hold that {}.",
                                              expression_in_words(further, further.root(), &given.context.library)));
            else
                continue;
            copy_number(found, judged);
            judged = worse_of(std::move(judged), std::move(found));
        }
    }
    if (auto proof = judge_validity(check, given)) {
        copy_number(*proof, judged);
        return *std::move(proof);
    }
    soften(check, judged, given);
    return judged;
}

// Of several channels the times are the same, so these two need no channel.
void add_shared_names(Given& given, const PointTable& points) {
    const auto seconds = *units::unit_named("s");
    given.names.insert_or_assign(
        "duration", Amount::of(points.times_s.back() - points.times_s.front(), seconds));
    given.names.insert_or_assign("count", Amount::plain(static_cast<double>(points.rows.size())));
}

Judged judge_series(const Check& check, const ReadingInput& reading, const Answer& answer,
                    Given given) {
    const auto& points = *answer.points;
    const auto taken = static_cast<int>(points.rows.size());
    Amount largest = points.rows.front().front();
    bool outside = false;
    for (const auto& row : points.rows) {
        for (const auto& amount : row) {
            if (amount.si > largest.si) largest = amount;
            outside =
                outside || is_outside(check.plausible, amount, check.unit.value_or(units::Unit{}));
        }
    }
    Judged judged;
    if (taken < check.series->min_points) {
        judged = judged_as(Outcome::Open, fmt::format("{} of {} readings are there.", taken,
                                                      check.series->min_points));
    } else {
        given.points = &points;
        for (const auto& [name, amount] : answer.extras) given.names.insert_or_assign(name, amount);
        if (!check.series->channels.empty()) add_shared_names(given, points);
        judged = judge_measured(check, largest, answer.entered_in, given, reading.instrument);
    }
    if (auto trend = trend_of(check, points, reading.instrument, judged, answer.entered_in)) {
        weigh_trend(judged, *trend);
        judged.trend = std::move(*trend);
    }
    const auto gain = heat_gain_of(check, answer, judged, given.context);
    if (!gain)
        leave_open(judged, gain.error());
    else if (*gain)
        weigh_gain(judged, **gain);
    judged.outside_plausible = outside;
    return judged;
}

Judged judge_part(const Check& check, const Part& part, const ReadingInput& reading,
                  const Answer& answer, const Given& given) {
    switch (part.kind) {
        case Kind::Confirm:
            return judge_confirmation(answer.yes.value_or(false), part.question);
        case Kind::Choice: {
            auto judged = judge_choice(check, part.accept, answer.word, given);
            // An accepted word may still be demanded to fit the house.
            if (judged.outcome == Outcome::Conforms && part.tolerance) return judge_text(&*part.tolerance, answer.word, given);
            return judged;
        }
        case Kind::Quantity: {
            auto of = number_case(check, part);
            say_in(of, answer.entered_in);
            auto judged = judge_number(of, *answer.number, *answer.number, given, reading.instrument);
            judged.outside_plausible =
                is_outside(part.plausible, *answer.number, part.unit.value_or(units::Unit{}));
            if (judged.outcome == Outcome::DoesNotConform && part.outside == OutsideCounts::Inconclusive)
                judged.outcome = Outcome::Inconclusive;
            return judged;
        }
        case Kind::Text:
        case Kind::Positions:
        case Kind::Series:
        case Kind::Photo:
        case Kind::Signature:
        case Kind::Computed:
            break;
    }
    return judge_text(part.tolerance ? &*part.tolerance : nullptr, answer.word, given);
}

Judged judge_place(const Check& check, const ReadingInput& reading, const Answer& answer,
                   const Given& given) {
    if (check.entry == EntryForm::Confirm)
        return judge_confirmation(answer.yes.value_or(false), check.question);
    if (check.entry == EntryForm::Choice)
        return judge_choice(check, check.accept, answer.word, given);
    Judged judged;
    if (check.tolerance || !check.together) {
        judged = judge_measured(check, *answer.number, answer.entered_in, given, reading.instrument);
    } else {
        // Only all places together are judged; a single one is written down.
        auto of = number_case(check);
        say_in(of, answer.entered_in);
        judged = judged_as(Outcome::Conforms, fmt::format("{} is recorded; the places are judged together.", said(of, *answer.number)));
        judged.measured = answer.number;
        judged.limits = limits_for(check, "", given.context, reading.instrument);
    }
    judged.outside_plausible =
        is_outside(check.plausible, *answer.number, check.unit.value_or(units::Unit{}));
    return judged;
}

}  // namespace

Judged judged_as(Outcome outcome, std::string why) {
    Judged judged;
    judged.outcome = outcome;
    judged.why = std::move(why);
    return judged;
}

void soften(const Check& check, Judged& judged, const Given& given) {
    if (judged.outcome != Outcome::DoesNotConform) return;
    if (check.outside == OutsideCounts::Inconclusive) {
        judged.outcome = Outcome::Inconclusive;
        return;
    }
    if (!check.concession_when) return;
    const auto holds = is_true(*check.concession_when, check.concession_when->root(), given);
    const bool possible = holds && *holds && check.severity != Severity::Hurts;
    judged.band = possible ? Band::ConcessionPossible : Band::Blocking;
    judged.why += possible ? " The quality lead may grant a concession."
                           : " No concession is possible this far out.";
}

Judged judge_answer(const Check& check, const ReadingInput& reading, const Answer& answer,
                    const Given& given) {
    if (const auto* part = check.part_named(reading.place);
        part != nullptr && !reading.place.empty())
        return judge_part(check, *part, reading, answer, given);
    switch (check.kind) {
        case Kind::Confirm:
            return judge_confirmation(answer.yes.value_or(false), check.question);
        case Kind::Choice:
            return judge_choice(check, check.accept, answer.word, given);
        case Kind::Quantity: {
            auto judged = judge_measured(check, *answer.number, answer.entered_in, given, reading.instrument);
            judged.outside_plausible =
                is_outside(check.plausible, *answer.number, check.unit.value_or(units::Unit{}));
            return judged;
        }
        case Kind::Positions:
            return judge_place(check, reading, answer, given);
        case Kind::Series:
            return judge_series(check, reading, answer, given);
        case Kind::Text:
            return judge_text(check.tolerance ? &*check.tolerance : nullptr, answer.word, given);
        case Kind::Photo:
            return judge_photo(reading, answer, check.photo_of);
        case Kind::Signature:
            return judged_as(Outcome::Open, "The signature is still missing.");
        case Kind::Computed:
            break;
    }
    return judged_as(Outcome::Open, "The tool decides this check.");
}

}  // namespace wm::checklist
