// Running the examples of a checklist.
#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "checklist/derived_names.hpp"
#include "checklist/example_steps.hpp"
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

// Refused at the first that cannot be read: a reading is large, and one example has room for a
// hundred thousand of places that do not exist.
Result<std::vector<ReadingInput>> readings_of(const Check& check, const Example& example,
                                              const Context& context) {
    const auto photo = example.photo_attached ? PhotoState::Attached : PhotoState::Missing;
    std::vector<std::pair<std::string, std::string>> texts;
    const bool none = trimmed(example.reading).empty();
    if (check.kind == Kind::Positions && !none) {
        auto places = split_positions(check, example.reading);
        if (!places) return tl::unexpected(places.error());
        texts = *std::move(places);
    } else if (check.kind != Kind::Computed && !none) {
        texts.emplace_back("", example.reading);
    }
    for (const auto& [name, text] : example.parts)
        if (check.part_named(name) == nullptr)
            return refused({fmt::format("There is no part \"{}\".", name), check.id.text,
                            "Use the name of a [[check.part]]."});
    std::vector<ReadingInput> readings;
    const auto take = [&](ReadingInput reading) {
        auto problem = why_unreadable(check, reading, context);
        if (!problem) readings.push_back(std::move(reading));
        return problem;
    };
    for (auto& [place, text] : texts)
        if (auto problem = take({std::move(place), std::move(text), instrument_of(check, example), photo}))
            return refused(*std::move(problem));
    for (const auto& [name, text] : example.parts)
        if (auto problem = take({name, text, std::nullopt, photo})) return refused(*std::move(problem));
    return readings;
}

Result<Judged> outcome_of(const Check& check, const Example& example, const Context& context) {
    const auto readings = readings_of(check, example, context);
    if (!readings) return tl::unexpected(readings.error());
    return judge_whole(check, *readings, context);
}

// The examples of one file, judged in its order within its steps. Most stand on the facts of the
// file alone and share them, with the derived values made of them.
class Examples {
public:
    explicit Examples(const Linted& linted)
        : linted_{linted},
          facts_{facts_for(linted.list, nullptr)},
          derived_{facts_, linted.library, no_values_} {}

    void all_of(const Check& check) {
        if (stopped_) return;
        const ExampleSteps steps{check, linted_.library};
        for (const auto& example : check.examples) {
            if (linted_.findings.is_full()) return;
            if (!may_take(steps.of(example, facts_.all().size()))) return stop_at(example);
            compare(check, example, judged(check, example));
        }
    }

private:
    bool may_take(std::size_t steps) {
        if (steps > left_) return false;
        left_ -= steps;
        return true;
    }

    void stop_at(const Example& example) {
        stopped_ = true;
        linted_.findings.error(
            example.at,
            "from this example on none is judged: the examples of the file are too much work "
            "together",
            "Give fewer examples or shorter tolerances, or make two checklists of this one.");
    }

    Result<Judged> judged(const Check& check, const Example& example) {
        if (example.facts.empty() && example.values.empty()) {
            auto context = context_of(example, facts_, linted_);
            context.derived = &derived_;
            return outcome_of(check, example, context);
        }
        const auto facts = facts_for(linted_.list, &example);
        auto context = context_of(example, facts, linted_);
        DerivedValues derived{context.facts, context.library, context.value_of};
        context.derived = &derived;
        return outcome_of(check, example, context);
    }

    void compare(const Check& check, const Example& example, const Result<Judged>& judged) {
        if (!judged) {
            linted_.findings.error(example.at,
                                   fmt::format("an example of \"{}\" cannot be read: {}",
                                               check.id.text, judged.error().what),
                                   judged.error().what_to_do);
            return;
        }
        if (judged->outcome == example.expected) return;
        linted_.findings.error(
            example.outcome_at,
            fmt::format("an example of \"{}\" expects \"{}\", but comes out as \"{}\"",
                        check.id.text, measure::in_words(example.expected),
                        measure::in_words(judged->outcome)),
            fmt::format("{} Put right the example or the tolerance.", judged->why));
    }

    const Linted& linted_;
    const Facts facts_;
    const DerivedValues::ValueOf no_values_;
    DerivedValues derived_;
    std::size_t left_ = most_example_steps;
    bool stopped_ = false;
};

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
    Examples examples{linted};
    for (const auto& check : linted.list.checks) {
        if (linted.findings.is_full()) return;
        count(check, linted.findings);
        examples.all_of(check);
    }
}

}  // namespace wm::checklist
