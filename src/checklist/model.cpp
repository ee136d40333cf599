// Words of the model, and looking things up in it.
#include "checklist/model.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

namespace wm::checklist {
namespace {

constexpr std::array kinds{std::pair{Kind::Confirm, std::string_view{"confirm"}},
                           std::pair{Kind::Choice, std::string_view{"choice"}},
                           std::pair{Kind::Quantity, std::string_view{"quantity"}},
                           std::pair{Kind::Positions, std::string_view{"positions"}},
                           std::pair{Kind::Series, std::string_view{"series"}},
                           std::pair{Kind::Text, std::string_view{"text"}},
                           std::pair{Kind::Photo, std::string_view{"photo"}},
                           std::pair{Kind::Signature, std::string_view{"signature"}},
                           std::pair{Kind::Computed, std::string_view{"computed"}}};

constexpr std::array rules{
    std::pair{ComputedRule::CrewLicences, std::string_view{"crew-licences"}},
    std::pair{ComputedRule::InstrumentsDue, std::string_view{"instruments-due"}},
    std::pair{ComputedRule::OpenItems, std::string_view{"open-items"}},
    std::pair{ComputedRule::KitReady, std::string_view{"kit-ready"}},
    std::pair{ComputedRule::SurveyVerdict, std::string_view{"survey-verdict"}}};

constexpr std::array severities{std::pair{Severity::Hurts, std::string_view{"H"}},
                                std::pair{Severity::Damages, std::string_view{"D"}},
                                std::pair{Severity::LosesPerformance, std::string_view{"P"}},
                                std::pair{Severity::Paperwork, std::string_view{"R"}}};

template <class Table, class T>
std::string_view word_of(const Table& table, T value) {
    for (const auto& [one, word] : table)
        if (one == value) return word;
    return "";
}

template <class T, class Table>
std::optional<T> value_of(const Table& table, std::string_view word) {
    for (const auto& [one, its_word] : table)
        if (its_word == word) return one;
    return std::nullopt;
}

template <class List, class Predicate>
auto pointer_to(const List& list, Predicate predicate) -> decltype(list.data()) {
    const auto found = std::find_if(list.begin(), list.end(), predicate);
    return found == list.end() ? nullptr : &*found;
}

}  // namespace

std::string_view in_words(Kind kind) {
    return word_of(kinds, kind);
}
std::optional<Kind> kind_named(std::string_view word) {
    return value_of<Kind>(kinds, word);
}
std::string_view in_words(ComputedRule rule) {
    return word_of(rules, rule);
}
std::optional<ComputedRule> rule_named(std::string_view word) {
    return value_of<ComputedRule>(rules, word);
}
std::string_view letter_of(Severity severity) {
    return word_of(severities, severity);
}
std::optional<Severity> severity_named(std::string_view letter) {
    return value_of<Severity>(severities, letter);
}

std::string_view in_words(Severity severity) {
    switch (severity) {
        case Severity::Hurts:
            return "can hurt someone";
        case Severity::Damages:
            return "can damage property";
        case Severity::LosesPerformance:
            return "costs performance";
        case Severity::Paperwork:
            return "paperwork";
    }
    return "";
}

const Part* Check::part_named(std::string_view name) const {
    return pointer_to(parts, [&](const Part& part) { return part.name == name; });
}

std::optional<units::Unit> Check::judged_unit() const {
    return measurand_unit ? measurand_unit : unit;
}

bool Check::is_numeric() const {
    switch (kind) {
        case Kind::Quantity:
        case Kind::Series:
            return true;
        case Kind::Positions:
            return entry == EntryForm::Number;
        case Kind::Confirm:
        case Kind::Choice:
        case Kind::Text:
        case Kind::Photo:
        case Kind::Signature:
        case Kind::Computed:
            return false;
    }
    return false;
}

const Check* Checklist::find(const CheckId& id) const {
    return pointer_to(checks, [&](const Check& check) { return check.id == id; });
}

const Stage* Checklist::stage_named(std::string_view id) const {
    return pointer_to(stages, [&](const Stage& stage) { return stage.id == id; });
}

const Checklist* Library::checklist_named(std::string_view name) const {
    return pointer_to(checklists, [&](const Checklist& list) { return list.name == name; });
}

const Check* Library::find(const CheckId& id) const {
    for (const auto& list : checklists)
        if (const auto* check = list.find(id)) return check;
    return nullptr;
}

const Caution* Library::caution_named(std::string_view id) const {
    return pointer_to(cautions, [&](const Caution& caution) { return caution.id == id; });
}

const InstrumentType* Library::type_named(std::string_view id) const {
    return pointer_to(instrument_types, [&](const InstrumentType& type) { return type.id == id; });
}

const SourceMark* Library::source_marked(std::string_view mark) const {
    return pointer_to(sources, [&](const SourceMark& source) { return source.mark == mark; });
}

const Setting* Library::setting_named(std::string_view name) const {
    return pointer_to(settings, [&](const Setting& setting) { return setting.name == name; });
}

std::string source_in_words(const Library& library, std::string_view mark) {
    if (mark == "CP") return "common practice, no source";
    const auto* source = library.source_marked(mark);
    if (source == nullptr) return std::string{mark};
    return fmt::format("{} ({})", source->title, source->state);
}

}  // namespace wm::checklist
