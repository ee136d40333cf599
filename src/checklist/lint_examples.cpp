// Running the examples of a checklist.
#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "checklist/judge.hpp"
#include "checklist/lint_rules.hpp"
#include "checklist/words.hpp"
#include "units/reading.hpp"

namespace wm::checklist {
namespace {

using Words = std::map<std::string, std::string>;

std::optional<std::string> word_in(const Words& words, const CheckId& id) {
    const auto found = words.find(id.text);
    return found == words.end() ? std::nullopt : std::optional{found->second};
}

std::optional<units::Amount> amount_in(const Words& words, const CheckId& id,
                                       const Library& library) {
    const auto text = word_in(words, id);
    if (!text) return std::nullopt;
    const auto* check = library.find(id);
    const auto unit = check == nullptr ? std::nullopt : check->judged_unit();
    const auto amount =
        unit ? units::read_amount(*text, *unit, id.text) : units::read_any_amount(*text, id.text);
    return amount ? std::optional{amount->amount()} : std::nullopt;
}

Context context_of(const Example& example, const Facts& facts, const Linted& linted) {
    const auto& library = linted.library;
    return {
        facts,
        library,
        example.today.empty() ? linted.list.date : example.today,
        [&example](const CheckId& id) {
            const auto word = word_in(example.outcomes, id);
            return word ? measure::outcome_named(*word) : std::nullopt;
        },
        [&example](const CheckId& id) { return word_in(example.answers, id); },
        [&example, &library](const CheckId& id) { return amount_in(example.values, id, library); },
        [&example, &library](const CheckId& id) {
            return amount_in(example.earlier, id, library);
        }};
}

// The uncertainty an example names belongs to an instrument that is otherwise in order.
std::optional<InstrumentInUse> instrument_of(const Check& check, const Example& example) {
    if (!example.uncertainty) return std::nullopt;
    InstrumentInUse instrument;
    instrument.card.id = "the instrument of the example";
    instrument.card.type = check.instrument.value_or("");
    instrument.card.calibration_due = "9999-12-31";
    instrument.uncertainty_as_judged = *example.uncertainty;
    return instrument;
}

Result<std::vector<ReadingInput>> readings_of(const Check& check, const Example& example) {
    const auto photo = example.photo_attached ? PhotoState::Attached : PhotoState::Missing;
    std::vector<ReadingInput> readings;
    const bool none = trimmed(example.reading).empty();
    if (check.kind == Kind::Positions && !none) {
        auto places = split_positions(check, example.reading);
        if (!places) return tl::unexpected(places.error());
        for (auto& [place, text] : *places)
            readings.push_back(
                {std::move(place), std::move(text), instrument_of(check, example), photo});
    } else if (check.kind != Kind::Computed && !none) {
        readings.push_back({"", example.reading, instrument_of(check, example), photo});
    }
    for (const auto& [name, text] : example.parts) {
        if (check.part_named(name) == nullptr)
            return refused({fmt::format("There is no part \"{}\".", name), check.id.text,
                            "Use the name of a [[check.part]]."});
        readings.push_back({name, text, std::nullopt, photo});
    }
    return readings;
}

Result<Judged> outcome_of(const Check& check, const Example& example, const Linted& linted) {
    const auto facts = facts_for(linted.list, &example);
    const auto context = context_of(example, facts, linted);
    const auto readings = readings_of(check, example);
    if (!readings) return tl::unexpected(readings.error());
    for (const auto& reading : *readings) {
        const auto one = judge_reading(check, reading, context);
        if (!one) return tl::unexpected(one.error());
    }
    return judge_whole(check, *readings, context);
}

void run(const Check& check, const Example& example, const Linted& linted) {
    const auto judged = outcome_of(check, example, linted);
    if (!judged) {
        linted.findings.error(example.at,
                              fmt::format("an example of \"{}\" cannot be read: {}", check.id.text,
                                          judged.error().what),
                              judged.error().what_to_do);
        return;
    }
    if (judged->outcome == example.expected) return;
    linted.findings.error(
        example.outcome_at,
        fmt::format("an example of \"{}\" expects \"{}\", but comes out as \"{}\"", check.id.text,
                    measure::in_words(example.expected), measure::in_words(judged->outcome)),
        fmt::format("{} Put right the example or the tolerance.", judged->why));
}

bool has_outcome(const Check& check, Outcome outcome) {
    return std::any_of(check.examples.begin(), check.examples.end(),
                       [&](const Example& example) { return example.expected == outcome; });
}

void count(const Check& check, Findings& findings) {
    constexpr std::size_t fewest = 3;
    if (!check.is_numeric()) return;
    if (check.examples.size() < fewest) {
        findings.error(check.at,
                       fmt::format("\"{}\" reads numbers and has {} of {} examples", check.id.text,
                                   check.examples.size(), fewest),
                       "Add examples that conform, that do not, and one at the edge.");
        return;
    }
    if (!has_outcome(check, Outcome::Conforms))
        findings.advise(check.at, fmt::format("no example of \"{}\" conforms", check.id.text),
                        "Add one.");
    const bool may_fail = check.outside == OutsideCounts::DoesNotConform;
    if (may_fail && !has_outcome(check, Outcome::DoesNotConform))
        findings.advise(check.at,
                        fmt::format("no example of \"{}\" fails to conform", check.id.text),
                        "Add one.");
}

}  // namespace

Facts facts_for(const Checklist& list, const Example* example) {
    Facts facts;
    for (const auto& value : list.example_facts) facts.set(value);
    if (example != nullptr)
        for (const auto& value : example->facts) facts.set(value);
    return facts;
}

void lint_examples(const Linted& linted) {
    for (const auto& check : linted.list.checks) {
        count(check, linted.findings);
        for (const auto& example : check.examples) {
            if (linted.findings.is_full()) return;
            run(check, example, linted);
        }
    }
}

}  // namespace wm::checklist
