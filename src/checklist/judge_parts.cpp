// Judging answers of every kind.
#include "checklist/judge_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "checklist/bounds.hpp"
#include "checklist/judge_number.hpp"
#include "checklist/judge_words.hpp"
#include "checklist/types.hpp"
#include "checklist/words.hpp"

namespace wm::checklist {
namespace {

using units::Amount;

Judged simple(Outcome outcome, std::string why) {
    Judged judged;
    judged.outcome = outcome;
    judged.why = std::move(why);
    return judged;
}

// What an answer stands for where an expression names it.
std::optional<Value> value_of(const Answer& answer) {
    if (answer.number) return Value{*answer.number};
    if (answer.yes) return Value{*answer.yes};
    if (!answer.word.empty()) return Value{answer.word};
    return std::nullopt;
}

bool contains(const std::vector<std::string>& list, const std::string& item) {
    return std::find(list.begin(), list.end(), item) != list.end();
}

Judged judge_confirmation(bool yes, std::string_view question) {
    if (yes) return simple(Outcome::Conforms, "Confirmed with yes.");
    return simple(Outcome::DoesNotConform, fmt::format("Answered with no: {}", question));
}

Judged judge_choice(const Check& check, const std::vector<std::string>& accept,
                    const std::string& word, const Given& given) {
    if (!contains(accept, word))
        return simple(Outcome::DoesNotConform,
                      fmt::format("\"{}\" is not accepted; accepted is {}.", word, quoted(accept)));
    const auto condition = check.accept_when.find(word);
    if (condition == check.accept_when.end())
        return simple(Outcome::Conforms, fmt::format("\"{}\" is an accepted answer.", word));
    const auto holds = is_true(condition->second, condition->second.root(), given);
    Judged judged;
    if (!holds) {
        leave_open(judged, holds.error());
        return judged;
    }
    const auto words = condition_in_words(condition->second, given.context.facts);
    if (*holds)
        return simple(Outcome::Conforms,
                      fmt::format("\"{}\" is accepted here, since {}.", word, words));
    return simple(Outcome::DoesNotConform,
                  fmt::format("\"{}\" is accepted only if {}.", word, words));
}

Judged judge_text(const Expression* tolerance, const std::string& text, const Given& given) {
    if (tolerance == nullptr)
        return simple(Outcome::Conforms, "Written down; nothing more is demanded.");
    Given with_text = given;
    with_text.names.insert_or_assign("reading", text);
    const auto holds = is_true(*tolerance, tolerance->root(), with_text);
    Judged judged;
    if (!holds) {
        leave_open(judged, holds.error());
        return judged;
    }
    const auto words = condition_in_words(*tolerance, given.context.facts);
    if (*holds) return simple(Outcome::Conforms, fmt::format("As demanded, {}.", words));
    return simple(Outcome::DoesNotConform, fmt::format("Demanded is that {}.", words));
}

Judged judge_photo(const ReadingInput& reading, const Answer& answer, const std::string& photo_of) {
    if (!answer.yes.value_or(true))
        return simple(Outcome::DoesNotConform,
                      fmt::format("The photo does not show what is asked for: {}.", photo_of));
    if (reading.photo == PhotoState::Missing)
        return simple(Outcome::Open, fmt::format("The photo is still missing: {}.", photo_of));
    return simple(Outcome::Conforms, fmt::format("The photo is there: {}.", photo_of));
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
        if (!*holds) return simple(Outcome::Inconclusive, validity.words);
    }
    return std::nullopt;
}

// The band of a reading outside its tolerance, and what counts as outside.
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

void copy_number(Judged& to, const Judged& from) {
    to.limits = from.limits;
    to.measured = from.measured;
    to.uncertainty = from.uncertainty;
    to.outside_plausible = from.outside_plausible;
}

// A measured number with validity, further conditions and bands; `entered` is what was read.
Judged judge_measured(const Check& check, const Amount& entered, Given given,
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
    const auto of = number_case(check);
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
                found = simple(Outcome::DoesNotConform,
                               fmt::format("It does not hold that {}.",
                                           node_in_words(further, further.root())));
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
        judged = simple(Outcome::Open, fmt::format("{} of {} readings are there.", taken,
                                                   check.series->min_points));
    } else {
        given.points = &points;
        for (const auto& [name, amount] : answer.extras) given.names.insert_or_assign(name, amount);
        if (!check.series->channels.empty()) add_shared_names(given, points);
        judged = judge_measured(check, largest, given, reading.instrument);
    }
    judged.outside_plausible = outside;
    return judged;
}

Judged judge_part(const Check& check, const Part& part, const ReadingInput& reading,
                  const Answer& answer, const Given& given) {
    switch (part.kind) {
        case Kind::Confirm:
            return judge_confirmation(answer.yes.value_or(false), part.question);
        case Kind::Choice:
            return judge_choice(check, part.accept, answer.word, given);
        case Kind::Quantity: {
            auto judged = judge_number(number_case(check, part), *answer.number, *answer.number,
                                       given, reading.instrument);
            judged.outside_plausible =
                is_outside(part.plausible, *answer.number, part.unit.value_or(units::Unit{}));
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
        judged = judge_measured(check, *answer.number, given, reading.instrument);
    } else {
        // Only all places together are judged; a single one is written down.
        judged = simple(Outcome::Conforms,
                        fmt::format("{} is recorded; the places are judged together.",
                                    amount_text(*answer.number, *check.unit, check.decimals)));
        judged.measured = answer.number;
        judged.limits = limits_for(check, "", given.context, reading.instrument);
    }
    judged.outside_plausible =
        is_outside(check.plausible, *answer.number, check.unit.value_or(units::Unit{}));
    return judged;
}

}  // namespace

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
            auto judged = judge_measured(check, *answer.number, given, reading.instrument);
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
            return simple(Outcome::Open, "The signature is still missing.");
        case Kind::Computed:
            break;
    }
    return simple(Outcome::Open, "The tool decides this check.");
}

namespace {

struct Taken {
    const ReadingInput* reading;
    Answer answer;
};

Judged at_place(Judged judged, const std::string& place) {
    if (!place.empty()) judged.why = fmt::format("{}: {}", place, judged.why);
    return judged;
}

// The places that were read, as one column named `reading`.
PointTable column_of(const std::vector<Taken>& taken, const NeededPlaces& needed) {
    PointTable table;
    table.channels = {"reading"};
    for (const auto& one : taken)
        if (one.answer.number && contains(needed.places, one.reading->place))
            table.rows.push_back({*one.answer.number});
    return table;
}

Judged judge_column(const Check& check, const PointTable& column, Given given,
                    const std::optional<InstrumentInUse>& instrument) {
    given.points = &column;
    Amount largest = column.rows.front().front();
    for (const auto& row : column.rows)
        if (row.front().si > largest.si) largest = row.front();
    auto judged = judge_together(*check.together, number_case(check), largest, given, instrument);
    soften(check, judged, given);
    return judged;
}

class Whole {
public:
    Whole(const Check& check, const Context& context, const NeededPlaces& needed)
        : check_{check}, needed_{needed}, given_{context, {}, nullptr} {}

    std::optional<Problem> take(const std::vector<ReadingInput>& latest) {
        for (const auto& reading : latest) {
            auto answer = read_answer(check_, reading.place, reading.text);
            if (!answer) return answer.error();
            if (const auto value = value_of(*answer);
                value && check_.part_named(reading.place) != nullptr)
                given_.names.insert_or_assign(as_name(reading.place), *value);
            photo_ = photo_ || reading.photo == PhotoState::Attached;
            taken_.push_back({&reading, *std::move(answer)});
        }
        return std::nullopt;
    }

    Judged judged() {
        std::optional<Judged> worst;
        const auto add = [&](Judged one) {
            worst = worst ? worse_of(*std::move(worst), std::move(one)) : std::move(one);
        };
        for (const auto& one : taken_)
            add(at_place(judge_answer(check_, *one.reading, one.answer, given_),
                         one.reading->place));
        const auto missing = missing_places();
        if (check_.together && missing.empty() && needed_.missing.none() && !taken_.empty()) {
            const auto column = column_of(taken_, needed_);
            if (!column.rows.empty())
                replace_if_as_bad(worst, judge_column(check_, column, given_,
                                                      taken_.front().reading->instrument));
        }
        if (!missing.empty() || !needed_.missing.none()) add(without(missing));
        if (check_.photo == PhotoWish::Required && !photo_ && !taken_.empty() &&
            check_.kind != Kind::Photo)
            add(simple(Outcome::Open, "A photo belongs to this check and is still missing."));
        return worst ? *std::move(worst) : without({});
    }

private:
    std::vector<std::string> missing_places() const {
        std::vector<std::string> missing;
        for (const auto& place : needed_.places) {
            const auto there = std::any_of(taken_.begin(), taken_.end(), [&](const Taken& one) {
                return one.reading->place == place;
            });
            if (!there) missing.push_back(place);
        }
        return missing;
    }

    // The mean of all places says more than any one of them.
    static void replace_if_as_bad(std::optional<Judged>& worst, Judged together) {
        if (!worst || worst->outcome == Outcome::Conforms) {
            const bool outside = worst && worst->outside_plausible;
            worst = std::move(together);
            worst->outside_plausible = outside;
            return;
        }
        worst = worse_of(*std::move(worst), std::move(together));
    }

    Judged without(const std::vector<std::string>& places) const {
        Judged open;
        if (!needed_.missing.none()) {
            leave_open(open, needed_.missing);
        } else if (taken_.empty()) {
            open.why = "No reading yet.";
        } else {
            open.why = fmt::format("Still to be read: {}.", listed(shown(places)));
        }
        open.missing_places = places;
        open.limits = limits_for(check_, "", given_.context);
        if (!open.limits.missing.none()) {
            open.missing_facts = open.limits.missing.facts;
            open.waits_for = open.limits.missing.checks;
        }
        return open;
    }

    static std::vector<std::string> shown(std::vector<std::string> places) {
        for (auto& place : places)
            if (place.empty()) place = "the main reading";
        return places;
    }

    const Check& check_;
    const NeededPlaces& needed_;
    Given given_;
    std::vector<Taken> taken_;
    bool photo_ = false;
};

}  // namespace

Result<Judged> judge_all(const Check& check, const std::vector<ReadingInput>& latest,
                         const Context& context, const NeededPlaces& needed) {
    Whole whole{check, context, needed};
    if (auto problem = whole.take(latest)) return refused(*std::move(problem));
    return whole.judged();
}

Judged judge_computed(const Check& check, const Context& context) {
    if (check.rule)
        return simple(Outcome::Open, fmt::format("Decided by the rule {}.", in_words(*check.rule)));
    const Given given{context, {}, nullptr};
    Judged judged;
    judged.limits = limits_in_words(check, nullptr, context);
    if (!check.tolerance) return judged;
    const auto& tolerance = *check.tolerance;
    if (check.measurand) {
        const auto measured = amount_of(*check.measurand, check.measurand->root(), given);
        if (measured) judged.measured = *measured;
        const IsSubject is_measurand = [&](std::uint32_t node) {
            const auto words = check.measurand->names();
            return std::any_of(words.begin(), words.end(),
                               [&](const auto& word) { return tolerance.mentions(node, word); });
        };
        const auto bounds = bounds_of(tolerance, given, is_measurand);
        if (!bounds.of_subjects.empty()) {
            judged.limits.low = bounds.of_subjects.front().low;
            judged.limits.high = bounds.of_subjects.front().high;
            judged.limits.unit = check.judged_unit();
            if (judged.limits.unit)
                judged.limits.text = range_text(judged.limits.low, judged.limits.high,
                                                *judged.limits.unit, check.decimals);
        }
    }
    const auto holds = is_true(tolerance, tolerance.root(), given);
    if (!holds) {
        judged.limits.missing = holds.error();
        leave_open(judged, holds.error());
        return judged;
    }
    judged.outcome = *holds ? Outcome::Conforms : Outcome::DoesNotConform;
    const auto words = condition_in_words(tolerance, context.facts);
    judged.why = fmt::format("{} {}.", *holds ? "It holds that" : "It does not hold that", words);
    const auto unit = check.judged_unit();
    if (judged.measured && unit)
        judged.why = fmt::format("Worked out: {}. {}",
                                 amount_text(*judged.measured, *unit, check.decimals), judged.why);
    soften(check, judged, given);
    return judged;
}

Limits limits_in_words(const Check& check, const Part* part, const Context& context) {
    Limits limits;
    const auto kind = part == nullptr ? check.kind : part->kind;
    const auto& accept = part == nullptr ? check.accept : part->accept;
    const auto& tolerance = part == nullptr ? check.tolerance : part->tolerance;
    const bool confirms =
        kind == Kind::Confirm || (kind == Kind::Positions && check.entry == EntryForm::Confirm);
    if (confirms)
        limits.text = "yes";
    else if (!accept.empty())
        limits.text = listed(accept, "or");
    else if (tolerance)
        limits.text = node_in_words(*tolerance, tolerance->root());
    else if (kind == Kind::Photo)
        limits.text = check.photo_of;
    if (tolerance) limits.derivation = derivation_of(*tolerance, {context, {}, nullptr});
    return limits;
}

}  // namespace wm::checklist
