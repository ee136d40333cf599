// Words and remedies for the dimension check, and what each place of a checklist may name.
#include "checklist/type_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "checklist/derived_names.hpp"
#include "checklist/words.hpp"
#include "measure/outcome.hpp"

namespace wm::checklist {
namespace {

using Fault = Expression::Fault;

// One sensible value of each kind of quantity, for remedies.
constexpr std::array examples{"3 bar",    "60 °C",   "5 K",      "300 mm", "20 N·m", "3°",
                              "2 m²",     "10 L",    "15 kg",    "10 min", "0.8 kN", "2 kW",
                              "300 W/m²", "8 L/min", "0.1 Ω",    "230 V",  "30 mA",  "10 m/s",
                              "200 mg/L", "2 W/K",   "20 MJ/m²", "1 L/m"};

std::string_view example_of(const Type& type) {
    for (const std::string_view example : examples) {
        const auto blank = example.find(' ');
        const auto unit =
            units::unit_named(blank == std::string_view::npos ? "°" : example.substr(blank + 1));
        if (unit && unit->dimension == type.dimension &&
            (unit->scale == units::Scale::Point) == (type.scale == units::Scale::Point))
            return example;
    }
    return "";
}

std::string without_article(std::string words) {
    for (const std::string_view article : {"a ", "an "})
        if (words.starts_with(article)) return words.substr(article.size());
    return words;
}

const Check* check_of(const Scope& scope, Function function, const CheckId& id) {
    if (function != Function::EarlierValueOf && scope.own != nullptr) return scope.own->find(id);
    if (scope.library == nullptr) return nullptr;
    return scope.library->find(id);
}

std::vector<std::string> ids_of(const Scope& scope) {
    std::vector<std::string> ids;
    if (scope.own != nullptr)
        for (const auto& check : scope.own->checks) ids.push_back(check.id.text);
    return ids;
}

std::vector<std::string> answers_of(const Check& check) {
    if (check.kind == Kind::Confirm) return {"yes", "no"};
    if (check.kind != Kind::Choice) return {};
    auto words = check.accept;
    words.insert(words.end(), check.refuse.begin(), check.refuse.end());
    return words;
}

}  // namespace

std::string in_words(const Type& type) {
    switch (type.sort) {
        case Sort::Number:
            return units::dimension_in_words(type.dimension, type.scale);
        case Sort::Truth:
            return "a yes or no";
        case Sort::Word:
            return "a word";
        case Sort::Date:
            return "a date";
        case Sort::Any:
            return "anything";
    }
    return "anything";
}

std::string remedy_for(const Type& wanted) {
    switch (wanted.sort) {
        case Sort::Truth:
            return "Compare with yes or no.";
        case Sort::Word:
            return "Compare with a word in single quotes, for example 'indirect'.";
        case Sort::Date:
            return "Compare with a day, for example 2027-03-04.";
        case Sort::Any:
            return "Compare like with like.";
        case Sort::Number:
            break;
    }
    if (wanted.dimension.is_plain())
        return "Give a bare number, or divide by a value of the same unit.";
    const auto example = example_of(wanted);
    const auto kind = without_article(units::dimension_in_words(wanted.dimension, wanted.scale));
    if (example.empty()) return fmt::format("Give {}.", in_words(wanted));
    return fmt::format("Give it in a unit of {}, for example {}.", kind, example);
}

Fault unknown_name(const Node& node, const Scope& scope) {
    if (scope.channels.contains(node.word)) {
        return {
            fmt::format("uses \"{}\" without saying which of its readings", node.word),
            fmt::format("Write first({0}), last({0}), mean({0}), smallest({0}) or largest({0}).",
                        node.word),
            node.begin, node.end};
    }
    if (node.word == "reading") {
        return {"uses `reading` where nothing has been read yet",
                "Use facts and derived values only.", node.begin, node.end};
    }
    if (function_named(node.word) != nullptr) {
        return {fmt::format("uses \"{}\" without its parentheses", node.word),
                fmt::format("Write it like {}.", function_named(node.word)->example), node.begin,
                node.end};
    }
    std::vector<std::string> known{"today"};
    for (const auto& spec : fact_table()) known.emplace_back(spec.key);
    for (const auto& spec : derived_table()) known.emplace_back(spec.name);
    for (const auto& [name, type] : scope.names) known.push_back(name);
    for (const auto& [name, type] : scope.channels) known.push_back(name);
    const auto near = nearest(node.word, known);
    return {
        fmt::format("names \"{}\", which nobody asks for", node.word),
        near ? fmt::format("Did you mean {}?", *near)
             : "Use a fact or a derived value of the lists in the guide, for example sys.tank_l.",
        node.begin, node.end};
}

Fault unknown_function(const Node& node) {
    std::vector<std::string> names;
    for (const std::string_view name :
         {"min",   "max",           "abs",         "ceil",          "floor",        "round",
          "sqrt",  "clamp",         "bearing_gap", "known",         "outcome",      "answer",
          "value", "commissioning", "first",       "last",          "smallest",     "largest",
          "mean",  "count",         "duration",    "smallest_late", "largest_late", "mean_late"})
        names.emplace_back(name);
    const auto near = nearest(node.word, names);
    const auto length = static_cast<std::uint32_t>(node.word.size());
    return {fmt::format("calls \"{}\", which is no function", node.word),
            near ? fmt::format("Did you mean {}?", function_named(*near)->example)
                 : fmt::format("The functions are {}.", listed(names)),
            node.begin, node.begin + length};
}

std::vector<std::string> possible_words(const Expression& expression, const Node& subject,
                                        const Scope& scope) {
    if (subject.op == Op::Name) {
        if (const auto own = scope.words.find(subject.word); own != scope.words.end()) return own->second;
        const auto* spec = fact_named(subject.word);
        if (spec == nullptr || spec->type != FactType::Choice) return {};
        return spec->choice_words();
    }
    if (subject.op != Op::Call || subject.operands.empty()) return {};
    const auto* spec = function_named(subject.word);
    if (spec == nullptr || !asks_a_check(spec->function)) return {};
    if (spec->function == Function::OutcomeOf) {
        std::vector<std::string> words;
        for (const auto outcome :
             {Outcome::Conforms, Outcome::DoesNotConform, Outcome::Inconclusive, Outcome::Deferred,
              Outcome::NotApplicable})
            words.emplace_back(measure::in_words(outcome));
        return words;
    }
    const CheckId id{expression.node(subject.operands[0]).word};
    const auto* check = check_of(scope, spec->function, id);
    return check == nullptr ? std::vector<std::string>{} : answers_of(*check);
}

tl::expected<Type, Fault> type_of_check(const Node& id, Function function, const Scope& scope) {
    const auto* check = check_of(scope, function, CheckId{id.word});
    if (check == nullptr) {
        const bool cannot_know = function == Function::EarlierValueOf || scope.own == nullptr;
        if (!cannot_know) {
            const auto near = nearest(id.word, ids_of(scope));
            return tl::unexpected(Fault{
                fmt::format("asks for the check '{}', which this checklist does not hold", id.word),
                near ? fmt::format("Did you mean '{}'?", *near)
                     : "Use the id of a check of this file.",
                id.begin, id.end});
        }
    }
    if (function == Function::OutcomeOf) return Type::of(Sort::Word);
    if (check == nullptr) return Type::of(Sort::Any);
    if (function == Function::AnswerOf) {
        const bool yes_or_no = check->kind == Kind::Confirm;
        return Type::of(yes_or_no ? Sort::Truth : Sort::Word);
    }
    const auto unit = check->judged_unit();
    if (!unit) {
        return tl::unexpected(
            Fault{fmt::format("asks for the value of '{}', which gives no number", id.word),
                  fmt::format("Use answer('{}').", id.word), id.begin, id.end});
    }
    return Type::number(*unit);
}

std::string as_name(std::string_view words) {
    std::string name{words};
    for (char& c : name)
        if (c == ' ' || c == '-' || c == '\'') c = '_';
    return name;
}

Scope scope_of_facts(const Checklist* own, const Library* library) {
    Scope scope;
    scope.own = own;
    scope.library = library;
    return scope;
}

Scope scope_of_part(const Part& part, const Checklist* own, const Library* library) {
    Scope scope = scope_of_facts(own, library);
    switch (part.kind) {
        case Kind::Confirm:
            scope.names["reading"] = Type::of(Sort::Truth);
            break;
        case Kind::Quantity:
            scope.names["reading"] = Type::number(part.unit.value_or(units::Unit{}));
            scope.names["uncertainty"] = Type::number(part.unit.value_or(units::Unit{}));
            scope.names["uncertainty"].scale = units::Scale::Plain;
            break;
        case Kind::Choice:
        case Kind::Text:
        case Kind::Positions:
        case Kind::Series:
        case Kind::Photo:
        case Kind::Signature:
        case Kind::Computed:
            scope.names["reading"] = Type::of(Sort::Word);
            break;
    }
    return scope;
}

namespace {

// Parts, extra readings and channels of a check, as its expressions call them.
void add_own_names(Scope& scope, const Check& check) {
    for (const auto& part : check.parts) {
        const auto part_scope = scope_of_part(part, nullptr, nullptr);
        scope.names[as_name(part.name)] = part_scope.names.at("reading");
    }
    const auto entered = check.unit ? Type::number(*check.unit) : Type::of(Sort::Any);
    if (check.series) {
        for (const auto& extra : check.series->extras)
            scope.names[as_name(extra.name)] = Type::number(extra.unit);
        for (const auto& channel : check.series->channels)
            scope.channels[as_name(channel)] = entered;
        if (check.series->channels.empty()) {
            scope.points = entered;
            scope.channel_of_reading = entered;
        } else {
            // duration and count are the same for each channel
            scope.names["duration"] = Type::number(*units::unit_named("s"));
            scope.names["count"] = Type::number(units::Unit{});
        }
    }
    if (check.kind == Kind::Positions) scope.channel_of_reading = entered;
}

Type type_of_answer(const Check& check) {
    const bool confirms = check.kind == Kind::Confirm || check.kind == Kind::Photo ||
                          (check.kind == Kind::Positions && check.entry == EntryForm::Confirm);
    if (confirms) return Type::of(Sort::Truth);
    if (check.is_numeric()) return Type::number(check.unit.value_or(units::Unit{}));
    return Type::of(Sort::Word);
}

}  // namespace

Scope scope_of_part_applies(const Check& check, const Checklist* own, const Library* library) {
    Scope scope = scope_of_facts(own, library);
    const std::string name{main_answer};
    scope.names[name] = type_of_answer(check);
    if (check.kind == Kind::Choice) scope.words[name] = answers_of(check);
    return scope;
}

Scope scope_of_measurand(const Check& check, const Checklist* own, const Library* library) {
    Scope scope = scope_of_facts(own, library);
    add_own_names(scope, check);
    if (check.kind != Kind::Series && check.kind != Kind::Computed)
        scope.names["reading"] = type_of_answer(check);
    return scope;
}

Scope scope_of_tolerance(const Check& check, const Checklist* own, const Library* library) {
    Scope scope = scope_of_facts(own, library);
    add_own_names(scope, check);
    const auto unit = check.judged_unit();
    const bool counts = check.is_numeric() && unit;
    scope.names["reading"] = counts ? Type::number(*unit) : type_of_answer(check);
    if (counts) {
        scope.names["uncertainty"] = Type::number(*unit);
        scope.names["uncertainty"].scale = units::Scale::Plain;
    }
    return scope;
}

}  // namespace wm::checklist
