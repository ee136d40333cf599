// Facts: reading one from text, and looking them up.
#include "checklist/facts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "checklist/words.hpp"
#include "plant/horizon.hpp"
#include "units/reading.hpp"

namespace wm::checklist {
namespace {

Problem unreadable(std::string_view key, std::string what, std::string what_to_do) {
    return {std::move(what), "fact " + std::string{key}, std::move(what_to_do),
            ProblemKind::Unreadable};
}

bool is_plausible(const FactSpec& spec, const units::Amount& amount) {
    const auto unit = spec.unit_in_use();
    constexpr double last_digit = 1e-9;
    const double value = amount.in(unit);
    return (!spec.low || value >= *spec.low - last_digit) &&
           (!spec.high || value <= *spec.high + last_digit);
}

// Where a sheet does not say, the trade counts with the coldest inlet that is usual.
constexpr std::string_view inlet_key = "heater.max_inlet_c";
constexpr std::string_view inlet_if_unknown = "60 °C";

Result<FactValue> read_number_fact(const FactSpec& spec, FactValue value) {
    const auto unit = spec.unit_in_use();
    const bool unknown_inlet = spec.key == inlet_key && value.text == "unknown";
    auto entered = units::read_amount(unknown_inlet ? inlet_if_unknown : value.text, unit,
                                      "fact " + value.key);
    if (!entered) return tl::unexpected(entered.error());
    value.number = entered->amount();
    if (spec.type == FactType::Integer) {
        const double whole = value.number->in(unit);
        if (std::abs(whole - std::round(whole)) > 1e-9) {
            return refused(unreadable(
                spec.key,
                fmt::format("The {} is a whole number, not {}.", spec.meaning, value.text),
                "Give a whole number."));
        }
    }
    value.outside_plausible = !is_plausible(spec, *value.number);
    return value;
}

Result<FactValue> read_choice_fact(const FactSpec& spec, FactValue value) {
    const auto words = spec.choice_words();
    const auto wanted = lower_case(value.text);
    const auto found = std::find_if(words.begin(), words.end(), [&](const std::string& word) {
        return lower_case(word) == wanted;
    });
    if (found != words.end()) {
        value.word = *found;
        return value;
    }
    const bool yes_or_no = wanted == "true" || wanted == "false";
    if (yes_or_no && std::find(words.begin(), words.end(), "yes") != words.end()) {
        value.word = wanted == "true" ? "yes" : "no";
        return value;
    }
    const auto near = nearest(value.text, words);
    return refused(unreadable(
        spec.key, fmt::format("\"{}\" is no {} this tool knows.", value.text, spec.meaning),
        fmt::format("{}The words are {}.", near ? fmt::format("Did you mean \"{}\"? ", *near) : "",
                    quoted(words))));
}

Result<FactValue> read_yes_no_fact(const FactSpec& spec, FactValue value) {
    const auto word = lower_case(value.text);
    if (word == "yes" || word == "true")
        value.yes = true;
    else if (word == "no" || word == "false")
        value.yes = false;
    else {
        return refused(unreadable(
            spec.key, fmt::format("\"{}\" is neither yes nor no ({}).", value.text, spec.meaning),
            "Give yes or no."));
    }
    value.word = *value.yes ? "yes" : "no";
    return value;
}

std::optional<std::string> day_within(std::string_view text) {
    constexpr std::size_t length = 10;
    for (std::size_t at = 0; at + length <= text.size(); ++at)
        if (measure::is_iso_day(text.substr(at, length)))
            return std::string{text.substr(at, length)};
    return std::nullopt;
}

Result<FactValue> read_date_fact(const FactSpec& spec, FactValue value) {
    if (!measure::is_iso_day(value.text)) {
        return refused(unreadable(
            spec.key,
            fmt::format("\"{}\" is no day of the calendar ({}).", value.text, spec.meaning),
            "Write year, month and day, for example 2027-03-04."));
    }
    value.date = value.text;
    value.word = value.text;
    return value;
}

}  // namespace

Result<FactValue> read_fact(std::string_view key, std::string_view text) {
    const auto* spec = fact_named(key);
    if (spec == nullptr) {
        const auto near = nearest_fact(key);
        return refused(unreadable(
            key, fmt::format("\"{}\" is not a fact this tool knows.", key),
            near.empty() ? "Use a key of the list of facts in the guide, for example sys.tank_l."
                         : fmt::format("Did you mean {}?", near)));
    }
    FactValue value;
    value.key = std::string{key};
    value.text = std::string{trimmed(text)};
    if (value.text.empty() && spec->type != FactType::Text) {
        return refused(
            unreadable(key, fmt::format("No {} was given.", spec->meaning),
                       fmt::format("Give {}, or leave the fact out.", in_words(spec->type))));
    }
    switch (spec->type) {
        case FactType::Number:
        case FactType::Integer:
            return read_number_fact(*spec, std::move(value));
        case FactType::Choice:
            return read_choice_fact(*spec, std::move(value));
        case FactType::YesNo:
            return read_yes_no_fact(*spec, std::move(value));
        case FactType::Date:
            return read_date_fact(*spec, std::move(value));
        case FactType::Licence:
            value.date = day_within(value.text);
            break;
        case FactType::Text:
            // An empty text takes the fact back.
            if (spec->key == "site.horizon" && !value.text.empty())
                if (const auto line = plant::read_horizon(value.text); !line)
                    return refused(unreadable(spec->key, line.error().what, line.error().what_to_do));
            break;
        case FactType::Names:
            break;
    }
    value.word = value.text;
    value.outside_plausible = spec->type == FactType::Licence && !value.date;
    return value;
}

std::optional<Question> question_about(const FactValue& value) {
    const auto* spec = fact_named(value.key);
    if (spec == nullptr || !value.outside_plausible) return std::nullopt;
    if (spec->type == FactType::Licence) {
        return Question{value.key, fmt::format("The {} \"{}\" has no date until which it is good.",
                                               spec->meaning, value.text)};
    }
    if (!value.number) return std::nullopt;
    const auto unit = spec->unit_in_use();
    const auto bound = [&](const std::optional<double>& limit) {
        return limit ? std::optional{units::Amount::of(*limit, unit)} : std::nullopt;
    };
    return Question{value.key, fmt::format("The {} is {}; {} would be usual.", spec->meaning,
                                           amount_text(*value.number, unit),
                                           range_text(bound(spec->low), bound(spec->high), unit))};
}

const FactValue* Facts::find(std::string_view key) const {
    const auto found = values_.find(key);
    return found == values_.end() ? nullptr : &found->second;
}

std::optional<units::Amount> Facts::number(std::string_view key) const {
    const auto* value = find(key);
    return value == nullptr ? std::nullopt : value->number;
}

std::optional<std::string> Facts::word(std::string_view key) const {
    const auto* value = find(key);
    if (value == nullptr || value->number) return std::nullopt;
    return value->word;
}

std::optional<bool> Facts::yes(std::string_view key) const {
    const auto* value = find(key);
    return value == nullptr ? std::nullopt : value->yes;
}

std::optional<std::string> Facts::date(std::string_view key) const {
    const auto* value = find(key);
    return value == nullptr ? std::nullopt : value->date;
}

void Facts::set(FactValue value) {
    auto key = value.key;
    values_.insert_or_assign(std::move(key), std::move(value));
}

}  // namespace wm::checklist
