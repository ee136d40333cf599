// The dimension check.
#include "checklist/types.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "checklist/derived_names.hpp"
#include "checklist/functions.hpp"
#include "checklist/type_functions.hpp"
#include "checklist/type_words.hpp"
#include "checklist/words.hpp"
#include "measure/outcome.hpp"

namespace wm::checklist {
namespace {

using Fault = Expression::Fault;
using Typed = tl::expected<Type, Fault>;
using Index = std::uint32_t;

bool is_any(const Type& type) {
    return type.sort == Sort::Any;
}
bool is_number(const Type& type) {
    return type.sort == Sort::Number;
}
bool is_point(const Type& type) {
    return type.scale == units::Scale::Point;
}

bool fit(const Type& a, const Type& b) {
    if (is_any(a) || is_any(b)) return true;
    if (a.sort != b.sort) return false;
    return !is_number(a) || (a.dimension == b.dimension && scales_agree(a.scale, b.scale));
}

Type without_scale(Type type) {
    type.scale = units::Scale::Plain;
    return type;
}

class Checker {
public:
    Checker(const Expression& expression, const Scope& scope) : e_{expression}, scope_{scope} {}

    Typed type(Index index) {
        const Node& node = e_.node(index);
        switch (node.op) {
            case Op::Number:
            case Op::Share:
                return Type::number(node.unit);
            case Op::Word:
                return Type::of(Sort::Word);
            case Op::Date:
                return Type::of(Sort::Date);
            case Op::Truth:
                return Type::of(Sort::Truth);
            case Op::Name:
                return name(node);
            case Op::Call:
                return call(node);
            case Op::Negate:
                return negation(node);
            case Op::Add:
            case Op::Subtract:
                return sum(node);
            case Op::Multiply:
            case Op::Divide:
                return product(node);
            case Op::AtLeast:
            case Op::AtMost:
            case Op::MoreThan:
            case Op::LessThan:
                return order(node);
            case Op::Between:
                return between(node);
            case Op::Within:
                return within(node);
            case Op::Is:
            case Op::IsNot:
                return equality(node);
            case Op::IsOneOf:
            case Op::IsNotOneOf:
                return membership(node);
            case Op::And:
            case Op::Or:
            case Op::Not:
                return logic(node);
            case Op::If:
                return choice(node);
        }
        return Type::of(Sort::Any);
    }

private:
    static tl::unexpected<Fault> fault(const Node& node, std::string what, std::string what_to_do) {
        return tl::unexpected(Fault{std::move(what), std::move(what_to_do), node.begin, node.end});
    }
    const Node& operand(const Node& node, std::size_t n) const { return e_.node(node.operands[n]); }

    Typed name(const Node& node) {
        if (inside_points_) {
            if (const auto found = scope_.channels.find(node.word); found != scope_.channels.end())
                return found->second;
            if (node.word == "reading" && scope_.channel_of_reading)
                return *scope_.channel_of_reading;
        }
        if (const auto found = scope_.names.find(node.word); found != scope_.names.end())
            return found->second;
        if (scope_.points && !inside_points_) {
            if (const auto* spec = function_named(node.word))
                return over_points(spec->function, *scope_.points);
        }
        if (const auto* spec = fact_named(node.word)) return type_of_fact(*spec);
        if (const auto* spec = derived_named(node.word))
            return Type::number(units::unit_named(spec->unit).value_or(units::Unit{}));
        if (node.word == "today") return Type::of(Sort::Date);
        if (node.word.starts_with("setting.")) return setting(node);
        return tl::unexpected(unknown_name(node, scope_));
    }

    static Typed type_of_fact(const FactSpec& spec) {
        switch (spec.type) {
            case FactType::Number:
            case FactType::Integer:
                return Type::number(spec.unit_in_use());
            case FactType::YesNo:
                return Type::of(Sort::Truth);
            case FactType::Date:
            case FactType::Licence:
                return Type::of(Sort::Date);
            case FactType::Text:
            case FactType::Choice:
            case FactType::Names:
                return Type::of(Sort::Word);
        }
        return Type::of(Sort::Any);
    }

    Typed setting(const Node& node) {
        constexpr std::size_t prefix = 8;
        const auto name = node.word.substr(prefix);
        if (scope_.library == nullptr || scope_.library->settings.empty())
            return Type::of(Sort::Any);
        const auto* found = scope_.library->setting_named(name);
        if (found == nullptr) {
            return fault(
                node,
                fmt::format("names the setting \"{}\", which instruments.toml does not hold", name),
                "Use the name of a [[setting]].");
        }
        const auto unit = units::unit_named(found->unit);
        return unit ? Type::number(*unit) : Type::of(Sort::Any);
    }

    static Typed over_points(Function function, const Type& points) {
        if (function == Function::Duration) return Type::number(*units::unit_named("s"));
        if (function == Function::Count) return Type::number(units::Unit{});
        return points;
    }

    Typed number(Index index) {
        auto found = type(index);
        if (found && !is_number(*found) && !is_any(*found)) {
            return fault(
                e_.node(index), fmt::format("counts with {}", in_words(*found)),
                "Only numbers with their units can be added, multiplied or compared by size.");
        }
        return found;
    }

    Typed negation(const Node& node) {
        const auto inner = number(node.operands[0]);
        if (inner && is_point(*inner)) {
            return fault(node, "turns the sign of a temperature",
                         "Write the temperature itself, for example -9 °C.");
        }
        return inner;
    }

    Typed sum(const Node& node) {
        const auto a = number(node.operands[0]);
        if (!a) return a;
        const auto b = number(node.operands[1]);
        if (!b) return b;
        return type_of_sum(e_, node, *a, *b);
    }

    Typed product(const Node& node) {
        const auto a = number(node.operands[0]);
        if (!a) return a;
        const auto b = number(node.operands[1]);
        if (!b) return b;
        return type_of_product(e_, node, *a, *b);
    }

    // The left side is looked at once only, however often it is compared: nested lists of lists
    // would otherwise take for ever.
    Typed compared(const Type& left, Index right) {
        const auto b = type(right);
        if (!b) return b;
        if (!fit(left, *b)) {
            return fault(e_.node(right),
                         fmt::format("compares {} with {}", in_words(left), in_words(*b)),
                         remedy_for(left));
        }
        return left;
    }

    Typed order(const Node& node) {
        const auto left = type(node.operands[0]);
        if (!left) return left;
        const auto both = compared(*left, node.operands[1]);
        if (!both) return both;
        if (left->sort == Sort::Word || left->sort == Sort::Truth) {
            return fault(
                node, fmt::format("asks which of two is larger, but compares {}", in_words(*left)),
                "Words can only be compared with is, is not and is one of.");
        }
        return Type::of(Sort::Truth);
    }

    Typed between(const Node& node) {
        const auto left = type(node.operands[0]);
        if (!left) return left;
        if (left->sort == Sort::Word || left->sort == Sort::Truth) {
            return fault(node, fmt::format("asks for a range of {}", in_words(*left)),
                         "Ranges are for numbers and dates.");
        }
        for (const Index limit : {node.operands[1], node.operands[2]}) {
            const auto both = compared(*left, limit);
            if (!both) return both;
        }
        return Type::of(Sort::Truth);
    }

    Typed within(const Node& node) {
        const auto left = type(node.operands[0]);
        if (!left) return left;
        const auto both = compared(*left, node.operands[2]);
        if (!both) return both;
        const auto distance = number(node.operands[1]);
        if (!distance) return distance;
        if (is_any(*left) || is_any(*distance)) return Type::of(Sort::Truth);
        if (!is_number(*left)) {
            return fault(operand(node, 0),
                         fmt::format("asks for a distance of {}", in_words(*left)),
                         "Distances are for numbers.");
        }
        if (operand(node, 1).op == Op::Share) {
            if (!is_point(*left)) return Type::of(Sort::Truth);
            return fault(operand(node, 1), "takes a share of a temperature",
                         "Give the distance in K, for example within 3 K of 60 °C.");
        }
        if (!fit(without_scale(*left), *distance)) {
            return fault(
                operand(node, 1),
                fmt::format("gives a distance of {} for {}", in_words(*distance), in_words(*left)),
                remedy_for(without_scale(*left)));
        }
        return Type::of(Sort::Truth);
    }

    Typed equality(const Node& node) {
        const auto left = type(node.operands[0]);
        if (!left) return left;
        const auto both = compared(*left, node.operands[1]);
        if (!both) return both;
        if (auto problem = strange_word(node.operands[0], node.operands[1]))
            return tl::unexpected(*std::move(problem));
        return Type::of(Sort::Truth);
    }

    Typed membership(const Node& node) {
        if (node.operands.size() < 2) {
            return fault(node, "asks for one of an empty list",
                         "Write: is one of ('first', 'second').");
        }
        const auto left = type(node.operands[0]);
        if (!left) return left;
        for (std::size_t n = 1; n < node.operands.size(); ++n) {
            const auto both = compared(*left, node.operands[n]);
            if (!both) return both;
            if (auto problem = strange_word(node.operands[0], node.operands[n]))
                return tl::unexpected(*std::move(problem));
        }
        return Type::of(Sort::Truth);
    }

    // A fact, an answer or an outcome is compared with a word it can never be.
    std::optional<Fault> strange_word(Index subject, Index word) const {
        const Node& text = e_.node(word);
        if (text.op != Op::Word) return std::nullopt;
        const auto words = possible_words(e_, e_.node(subject), scope_);
        if (words.empty() || std::find(words.begin(), words.end(), text.word) != words.end())
            return std::nullopt;
        const auto near = nearest(text.word, words);
        return Fault{fmt::format("compares {} with '{}', which it can never be",
                                 e_.text_of(subject), text.word),
                     near ? fmt::format("Did you mean '{}'?", *near)
                          : fmt::format("It can be {}.", quoted(words)),
                     text.begin, text.end};
    }

    Typed logic(const Node& node) {
        for (const Index index : node.operands) {
            const auto part = type(index);
            if (!part) return part;
            if (part->sort == Sort::Truth || is_any(*part)) continue;
            const std::string_view joint = node.op == Op::And  ? "and"
                                           : node.op == Op::Or ? "or"
                                                               : "not";
            return fault(e_.node(index),
                         fmt::format("joins {} with \"{}\"", in_words(*part), joint),
                         "Both sides must be conditions, for example: reading at least 5 mm.");
        }
        return Type::of(Sort::Truth);
    }

    Typed choice(const Node& node) {
        const auto condition = type(node.operands[0]);
        if (!condition) return condition;
        if (condition->sort != Sort::Truth && !is_any(*condition)) {
            return fault(operand(node, 0), fmt::format("decides by {}", in_words(*condition)),
                         "Between \"if\" and \"then\" stands a condition, for example sys.kind is "
                         "'direct'.");
        }
        const auto one = type(node.operands[1]);
        if (!one) return one;
        const auto other = type(node.operands[2]);
        if (!other) return other;
        if (!fit(*one, *other)) {
            return fault(operand(node, 2),
                         fmt::format("gives {} after \"then\" and {} after \"else\"",
                                     in_words(*one), in_words(*other)),
                         "Both must be of the same kind and unit.");
        }
        return is_any(*one) ? *other : *one;
    }

    Typed call(const Node& node) {
        const auto* spec = function_named(node.word);
        if (spec == nullptr) return tl::unexpected(unknown_function(node));
        const auto count = static_cast<int>(node.operands.size());
        if (count < spec->fewest || count > spec->most) {
            return fault(node, fmt::format("calls {} with {} values", node.word, count),
                         fmt::format("Write it like {}.", spec->example));
        }
        if (asks_a_check(spec->function)) return of_check(node, *spec);
        if (is_over_points(spec->function)) return over_points(node, *spec);
        return plain_call(node, *spec);
    }

    Typed of_check(const Node& node, const FunctionSpec& spec) {
        const Node& id = operand(node, 0);
        if (id.op != Op::Word) {
            return fault(id,
                         fmt::format("asks {} of something that is no id of a check", spec.name),
                         fmt::format("Write it like {}.", spec.example));
        }
        return type_of_check(id, spec.function, scope_);
    }

    Typed over_points(const Node& node, const FunctionSpec& spec) {
        if (scope_.channels.empty() && !scope_.channel_of_reading) {
            return fault(node,
                         fmt::format("asks for {} where there is a single reading", spec.name),
                         "This function is for series and for checks with several places.");
        }
        if (inside_points_) {
            return fault(
                node, fmt::format("puts {} inside another function over the readings", spec.name),
                "Take the one from the other, for example largest(riser) - smallest(riser).");
        }
        std::size_t subject = 0;
        if (is_late(spec.function)) {
            subject = 1;
            const auto how_late = number(node.operands[0]);
            if (!how_late) return how_late;
            if (!fit(*how_late, Type::number(*units::unit_named("s")))) {
                return fault(operand(node, 0),
                             fmt::format("gives {} for how late", in_words(*how_late)),
                             "Give a time, for example 10 min.");
            }
        }
        inside_points_ = true;
        const auto inner = number(node.operands[subject]);
        inside_points_ = false;
        if (!inner) return inner;
        return over_points(spec.function, *inner);
    }

    Typed plain_call(const Node& node, const FunctionSpec& spec) {
        if (spec.function == Function::Known) {
            if (operand(node, 0).op == Op::Name && fact_named(operand(node, 0).word) != nullptr)
                return Type::of(Sort::Truth);
            return fault(operand(node, 0), "asks whether something is known that is no fact",
                         fmt::format("Write it like {}.", spec.example));
        }
        const auto first = number(node.operands[0]);
        if (!first) return first;
        Type joint = *first;
        for (std::size_t n = 1; n < node.operands.size(); ++n) {
            const auto next = number(node.operands[n]);
            if (!next) return next;
            if (!fit(joint, *next)) {
                return fault(operand(node, n),
                             fmt::format("mixes {} and {} in {}", in_words(joint), in_words(*next),
                                         spec.name),
                             remedy_for(joint));
            }
            if (is_any(joint)) joint = *next;
        }
        return type_of_result(e_, node, spec, joint);
    }

    const Expression& e_;
    const Scope& scope_;
    bool inside_points_ = false;
};

}  // namespace

tl::expected<Type, Fault> type_of(const Expression& expression, const Scope& scope) {
    return Checker{expression, scope}.type(expression.root());
}

std::optional<Fault> fault_unless(const Expression& expression, const Scope& scope,
                                  const Type& wanted) {
    const auto found = type_of(expression, scope);
    if (!found) return found.error();
    if (fit(*found, wanted)) return std::nullopt;
    return Fault{fmt::format("gives {}, but {} is wanted here", in_words(*found), in_words(wanted)),
                 wanted.sort == Sort::Truth
                     ? "Write a condition, for example: reading at least 5 mm."
                     : remedy_for(wanted),
                 0, static_cast<std::uint32_t>(expression.text().size())};
}

}  // namespace wm::checklist
