// Putting the places and parts of a check together, and the checks the tool works out by itself.
#include "checklist/judge_all.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "checklist/bounds.hpp"
#include "checklist/judge_answer.hpp"
#include "checklist/judge_number.hpp"
#include "checklist/judge_words.hpp"
#include "checklist/plain_expression.hpp"
#include "checklist/readings.hpp"
#include "checklist/types.hpp"
#include "checklist/words.hpp"

namespace wm::checklist {
namespace {

using units::Amount;

bool contains(const std::vector<std::string>& list, const std::string& item) {
    return std::find(list.begin(), list.end(), item) != list.end();
}

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

// The unit that all places were read in; none where they differ.
std::optional<units::Unit> common_unit(const std::vector<Taken>& taken) {
    const auto& first = taken.front().answer.entered_in;
    const bool same = std::all_of(taken.begin(), taken.end(), [&](const Taken& one) { return one.answer.entered_in == first; });
    return same ? first : std::nullopt;
}

Judged judge_column(const Check& check, const PointTable& column, const std::optional<units::Unit>& entered_in, Given given,
                    const std::optional<InstrumentInUse>& instrument) {
    given.points = &column;
    Amount largest = column.rows.front().front();
    for (const auto& row : column.rows)
        if (row.front().si > largest.si) largest = row.front();
    auto of = number_case(check);
    say_in(of, entered_in);
    auto judged = judge_together(*check.together, of, largest, given, instrument);
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
                replace_if_as_bad(worst, judge_column(check_, column, common_unit(taken_), given_, taken_.front().reading->instrument));
        }
        if (!missing.empty() || !needed_.missing.none()) add(without(missing));
        if (check_.photo == PhotoWish::Required && !photo_ && !taken_.empty() &&
            check_.kind != Kind::Photo)
            add(judged_as(Outcome::Open, "A photo belongs to this check and is still missing."));
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

std::optional<Value> value_of(const Answer& answer) {
    if (answer.number) return Value{*answer.number};
    if (answer.yes) return Value{*answer.yes};
    if (!answer.word.empty()) return Value{answer.word};
    return std::nullopt;
}

Result<Judged> judge_all(const Check& check, const std::vector<ReadingInput>& latest,
                         const Context& context, const NeededPlaces& needed) {
    Whole whole{check, context, needed};
    if (auto problem = whole.take(latest)) return refused(*std::move(problem));
    return whole.judged();
}

Judged judge_computed(const Check& check, const Context& context) {
    if (check.rule)
        return judged_as(Outcome::Open,
                         fmt::format("Decided by the rule {}.", in_words(*check.rule)));
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
        limits.text = demand_in_words(*tolerance, {context, {}, nullptr});
    else if (kind == Kind::Photo)
        limits.text = check.photo_of;
    if (tolerance) limits.derivation = derivation_of(*tolerance, {context, {}, nullptr});
    return limits;
}

}  // namespace wm::checklist
