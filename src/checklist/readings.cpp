// Entries of single values and of places.
#include "checklist/readings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "checklist/judge.hpp"
#include "checklist/words.hpp"
#include "units/reading.hpp"

namespace wm::checklist {
namespace {

Problem unreadable(std::string what, std::string where, std::string what_to_do) {
    return {std::move(what), std::move(where), std::move(what_to_do), ProblemKind::Unreadable};
}

Result<Answer> read_number(const units::Unit& unit, std::string_view text, std::string_view where) {
    const auto entered = units::read_amount(text, unit, where);
    if (!entered) return tl::unexpected(entered.error());
    Answer answer;
    answer.number = entered->amount();
    answer.entered_in = entered->unit;
    return answer;
}

Result<Answer> read_confirmation(std::string_view text, std::string_view where) {
    const auto yes = read_yes_or_no(text, where);
    if (!yes) return tl::unexpected(yes.error());
    Answer answer;
    answer.yes = *yes;
    answer.word = *yes ? "yes" : "no";
    return answer;
}

Result<Answer> read_word(const std::vector<std::string>& accept,
                         const std::vector<std::string>& refuse, std::string_view text,
                         std::string_view where) {
    auto word = word_among(accept, refuse, text, where);
    if (!word) return tl::unexpected(word.error());
    Answer answer;
    answer.word = *std::move(word);
    return answer;
}

Result<Answer> read_text(std::string_view text, std::string_view where) {
    Answer answer;
    answer.word = std::string{trimmed(text)};
    if (answer.word.empty())
        return refused(unreadable("Nothing was written.", std::string{where},
                                  "Write what was seen, in a few words."));
    return answer;
}

Result<Answer> read_part(const Part& part, std::string_view text, std::string_view where) {
    switch (part.kind) {
        case Kind::Confirm:
            return read_confirmation(text, where);
        case Kind::Choice:
            return read_word(part.accept, part.refuse, text, where);
        case Kind::Quantity:
            return read_number(part.unit.value_or(units::Unit{}), text, where);
        case Kind::Text:
        case Kind::Positions:
        case Kind::Series:
        case Kind::Photo:
        case Kind::Signature:
        case Kind::Computed:
            break;
    }
    return read_text(text, where);
}

Result<Answer> read_place(const Check& check, std::string_view text, std::string_view where) {
    switch (check.entry) {
        case EntryForm::Number:
            return read_number(check.unit.value_or(units::Unit{}), text, where);
        case EntryForm::Confirm:
            return read_confirmation(text, where);
        case EntryForm::Choice:
            return read_word(check.accept, check.refuse, text, where);
    }
    return read_text(text, where);
}

}  // namespace

std::string where_of(const Check& check, std::string_view place) {
    if (place.empty()) return check.id.text;
    return fmt::format("{}, place {}", check.id.text, place);
}

Result<bool> read_yes_or_no(std::string_view text, std::string_view where) {
    const auto word = lower_case(trimmed(text));
    if (word == "yes" || word == "y") return true;
    if (word == "no" || word == "n") return false;
    return refused(unreadable(fmt::format("\"{}\" is neither yes nor no.", trimmed(text)),
                              std::string{where}, "Answer yes or no."));
}

Result<std::string> word_among(const std::vector<std::string>& accept,
                               const std::vector<std::string>& refuse, std::string_view text,
                               std::string_view where) {
    auto words = accept;
    words.insert(words.end(), refuse.begin(), refuse.end());
    const auto wanted = lower_case(trimmed(text));
    for (const auto& word : words)
        if (lower_case(word) == wanted) return word;
    const auto near = nearest(trimmed(text), words);
    return refused(unreadable(
        fmt::format("\"{}\" is not one of the answers of this check.", trimmed(text)),
        std::string{where},
        fmt::format("{}The answers are {}.",
                    near ? fmt::format("Did you mean \"{}\"? ", *near) : "", quoted(words))));
}

Result<Answer> read_answer(const Check& check, std::string_view place, std::string_view text) {
    const auto where = where_of(check, place);
    if (const auto* part = check.part_named(place); part != nullptr && !place.empty())
        return read_part(*part, text, where);
    switch (check.kind) {
        case Kind::Confirm:
            return read_confirmation(text, where);
        case Kind::Choice:
            return read_word(check.accept, check.refuse, text, where);
        case Kind::Quantity:
            return read_number(check.unit.value_or(units::Unit{}), text, where);
        case Kind::Positions:
            return read_place(check, text, where);
        case Kind::Series:
            return read_series(check, text);
        case Kind::Text:
            return read_text(text, where);
        case Kind::Photo:
            return trimmed(text).empty() ? read_confirmation("yes", where)
                                         : read_confirmation(text, where);
        case Kind::Signature:
            return refused(unreadable("A signature is drawn, not entered.", where, "Use sign."));
        case Kind::Computed:
            return refused(unreadable("The tool decides this check; nothing can be entered.", where,
                                      "Enter the readings and facts it is worked out from."));
    }
    return read_text(text, where);
}

Result<std::vector<std::pair<std::string, std::string>>> split_positions(const Check& check,
                                                                         std::string_view text) {
    std::vector<std::pair<std::string, std::string>> places;
    if (check.kind != Kind::Positions || text.find('=') == std::string_view::npos) {
        places.emplace_back("", std::string{trimmed(text)});
        return places;
    }
    std::string unit;
    std::set<std::string_view> seen;
    for (const auto item : split_at(text, ';')) {
        const auto equals = item.find('=');
        const auto place = trimmed(item.substr(0, equals));
        if (equals == std::string_view::npos || place.empty() ||
            trimmed(item.substr(equals + 1)).empty()) {
            return refused(
                unreadable(fmt::format("\"{}\" is no reading of a place.", item), check.id.text,
                           "Write place=reading, separated by semicolons: \"1=23.5; 2=24 N·m\"."));
        }
        const std::string value{trimmed(item.substr(equals + 1))};
        if (!seen.insert(place).second) {
            return refused(unreadable(fmt::format("The place \"{}\" is there twice.", place),
                                      check.id.text, "Give each place one reading."));
        }
        places.emplace_back(std::string{place}, value);
    }
    if (check.entry != EntryForm::Number) return places;
    const auto bare = [](const std::string& value) {
        return units::read_number(value).has_value();
    };
    const bool any_bare = std::any_of(places.begin(), places.end(),
                                      [&](const auto& p) { return bare(p.second); });
    for (const auto& [place, value] : places) {
        const auto entered = units::read_any_amount(value, where_of(check, place));
        if (!entered || bare(value)) continue;
        const std::string symbol{entered->unit.symbol};
        if (!unit.empty() && unit != symbol && any_bare) {
            return refused(unreadable("Some readings have no unit, and the others have several.",
                                      check.id.text, "Write the unit behind each reading."));
        }
        unit = symbol;
    }
    for (auto& [place, value] : places)
        if (bare(value) && !unit.empty()) value += " " + unit;
    return places;
}

}  // namespace wm::checklist
