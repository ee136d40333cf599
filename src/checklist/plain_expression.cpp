// Words for each kind of node; brackets only where two readings are possible.
#include "checklist/plain_expression.hpp"

#include <fmt/format.h>

#include <optional>
#include <vector>

#include "checklist/derived_names.hpp"
#include "checklist/functions.hpp"
#include "checklist/judge_words.hpp"
#include "checklist/words.hpp"
#include "units/reading.hpp"

namespace wm::checklist {
namespace {

std::string with_blanks(std::string name) {
    for (char& letter : name)
        if (letter == '_') letter = ' ';
    return name;
}

bool is_join(Op op) { return op == Op::And || op == Op::Or || op == Op::If; }

/// What the words are for.
enum class Said { Anything, Demand, Number };

/// One walk over a tree. With `given`, branches that the facts decide are followed.
class Speaker {
public:
    Speaker(const Expression& expression, const Library* library, const Given* given, Said as)
        : expression_{expression}, library_{library}, given_{given}, as_{as} {}

    std::string say(std::uint32_t index) const {
        const Node& node = expression_.node(index);
        switch (node.op) {
            case Op::Number:
            case Op::Date:
                return std::string{expression_.text_of(index)};
            case Op::Share:
                return units::print_short(node.number.si * 100.0) + " %";
            case Op::Word:
            case Op::Truth:
                return node.word;
            case Op::Name:
                return named(node.word.empty() ? std::string{expression_.text_of(index)} : node.word);
            case Op::Call:
                return called(node);
            case Op::Negate:
                return "−" + factor(node.operands[0]);
            case Op::Add:
                return sum(node);
            case Op::Subtract:
                return difference(node);
            case Op::Multiply:
                return product(node);
            case Op::Divide:
                return fmt::format("{} ÷ {}", factor(node.operands[0]), factor(node.operands[1]));
            case Op::AtLeast:
            case Op::AtMost:
            case Op::MoreThan:
            case Op::LessThan:
            case Op::Between:
            case Op::Within:
            case Op::Is:
            case Op::IsNot:
            case Op::IsOneOf:
            case Op::IsNotOneOf:
                return compared(node);
            case Op::And:
                return fmt::format("{} and {}", part(node.operands[0], Op::And), part(node.operands[1], Op::And));
            case Op::Or:
                return fmt::format("{} or {}", part(node.operands[0], Op::Or), part(node.operands[1], Op::Or));
            case Op::Not:
                return denied(node.operands[0]);
            case Op::If:
                return chosen(node);
        }
        return {};
    }

private:
    [[nodiscard]] bool is_about_reading(std::uint32_t index) const {
        return as_ == Said::Demand && is_name(index, "reading");
    }

    [[nodiscard]] bool is_name(std::uint32_t index, std::string_view name) const {
        return expression_.node(index).op == Op::Name && expression_.text_of(index) == name;
    }

    /// The branch that is taken, where the facts decide; otherwise the node itself.
    [[nodiscard]] std::uint32_t followed(std::uint32_t index) const {
        const Node& node = expression_.node(index);
        if (as_ != Said::Number || node.op != Op::If) return index;
        const auto holds = is_true_or_unknown(node.operands[0]);
        return holds ? followed(node.operands[*holds ? 1 : 2]) : index;
    }

    [[nodiscard]] bool is_nothing(std::uint32_t index) const {
        const Node& node = expression_.node(index);
        return as_ == Said::Number && node.op == Op::Number && node.number.si == 0.0;
    }

    std::string sum(const Node& node) const {
        const auto left = followed(node.operands[0]);
        const auto right = followed(node.operands[1]);
        if (is_nothing(right)) return say(left);
        if (is_nothing(left)) return say(right);
        return fmt::format("{} + {}", say(left), say(right));
    }

    std::string difference(const Node& node) const {
        if (is_name(node.operands[0], "first") && is_name(node.operands[1], "smallest"))
            return "the fall from the first reading to the smallest";
        if (is_name(node.operands[0], "largest") && is_name(node.operands[1], "first"))
            return "the rise from the first reading to the largest";
        return fmt::format("{} − {}", say(node.operands[0]), factor(node.operands[1]));
    }

    std::string named(const std::string& name) const {
        if (const auto* spec = fact_named(name)) return std::string{spec->meaning};
        if (const auto* spec = derived_named(name)) return std::string{spec->meaning};
        if (library_ != nullptr)
            if (const auto* setting = setting_in(name, *library_)) return setting_text(*setting);
        if (name == "first" || name == "last") return "the " + name + " reading";
        if (name == "smallest" || name == "largest") return "the " + name + " reading";
        return name == "reading" ? name : with_blanks(name);
    }

    std::string check_titled(std::uint32_t index) const {
        const std::string& id = expression_.node(index).word;
        const Check* check = library_ == nullptr ? nullptr : library_->find(CheckId{id});
        return check == nullptr ? id : "“" + check->title + "”";
    }

    std::string listed_all(const Node& node, std::string_view joint) const {
        std::vector<std::string> all;
        for (const auto operand : node.operands) all.push_back(say(operand));
        return listed(all, joint);
    }

    std::string called(const Node& node) const {
        const auto* spec = function_named(node.word);
        if (spec == nullptr) return node.word;
        const auto first = [&] { return say(node.operands[0]); };
        const auto second = [&] { return say(node.operands[1]); };
        const bool two = node.operands.size() == 2;
        switch (spec->function) {
            case Function::Min:
                return fmt::format("the {} of {}", two ? "smaller" : "smallest", listed_all(node, "and"));
            case Function::Max:
                return fmt::format("the {} of {}", two ? "larger" : "largest", listed_all(node, "and"));
            case Function::Abs: return "the size of " + factor(node.operands[0]);
            case Function::Ceil: return first() + " (rounded up)";
            case Function::Floor: return first() + " (rounded down)";
            case Function::Round: return first() + " (rounded)";
            case Function::Sqrt: return "the square root of " + factor(node.operands[0]);
            case Function::Clamp:
                return fmt::format("{}, but no less than {} and no more than {}", first(), second(), say(node.operands[2]));
            case Function::BearingGap: return fmt::format("the angle between {} and {}", first(), second());
            case Function::FullRise:
                return fmt::format("the rise that warming from {} to {} gives locked-in water", first(), second());
            case Function::Known: return first() + " is known";
            case Function::OutcomeOf: return "the outcome of " + check_titled(node.operands[0]);
            case Function::AnswerOf: return "the answer to " + check_titled(node.operands[0]);
            case Function::ValueOf: return "the reading of " + check_titled(node.operands[0]);
            case Function::EarlierValueOf:
                return fmt::format("the reading of {} at commissioning", check_titled(node.operands[0]));
            case Function::First: return "the first " + first();
            case Function::Last: return "the last " + first();
            case Function::Smallest: return "the smallest " + first();
            case Function::Largest: return "the largest " + first();
            case Function::Mean: return "the mean " + first();
            case Function::Count: return "the number of readings of " + first();
            case Function::Duration: return "the time over which there are readings of " + first();
            case Function::SmallestLate: return fmt::format("the smallest {} after {}", second(), first());
            case Function::LargestLate: return fmt::format("the largest {} after {}", second(), first());
            case Function::MeanLate: return fmt::format("the mean {} after {}", second(), first());
        }
        return node.word;
    }

    /// A term that stands beside × or ÷ or behind a minus.
    std::string factor(std::uint32_t index) const {
        const Op op = expression_.node(index).op;
        const bool loose = op == Op::Add || op == Op::Subtract || is_join(op);
        return loose ? "(" + say(index) + ")" : say(index);
    }

    [[nodiscard]] std::optional<double> bare_number(std::uint32_t index) const {
        const Node& node = expression_.node(index);
        if (node.op == Op::Negate) {
            const auto inner = bare_number(node.operands[0]);
            return inner ? std::optional{-*inner} : std::nullopt;
        }
        const bool plain = node.op == Op::Number && node.number.dimension == units::Dimension{} && node.unit.symbol.empty();
        return plain ? std::optional{node.number.si} : std::nullopt;
    }

    std::string product(const Node& node) const {
        const auto times = bare_number(node.operands[0]);
        const std::string other = factor(node.operands[1]);
        if (times && *times == -1.0) return "−" + other;
        if (times && *times > 0.0 && *times < 1.0) return fmt::format("{} % of {}", units::print_short(*times * 100.0), other);
        if (expression_.node(node.operands[0]).op == Op::Share) return fmt::format("{} of {}", say(node.operands[0]), other);
        return fmt::format("{} × {}", factor(node.operands[0]), other);
    }

    std::string compared(const Node& node) const {
        const auto operand = [&](std::size_t i) { return say(node.operands[i]); };
        const std::string is = is_about_reading(node.operands[0]) ? "" : operand(0) + " is ";
        std::vector<std::string> choices;
        for (std::size_t i = 1; i < node.operands.size(); ++i) choices.push_back(operand(i));
        if (node.op == Op::AtLeast) return is + "at least " + choices[0];
        if (node.op == Op::AtMost) return is + "at most " + choices[0];
        if (node.op == Op::MoreThan) return is + "more than " + choices[0];
        if (node.op == Op::LessThan) return is + "less than " + choices[0];
        if (node.op == Op::Between) return fmt::format("{}between {} and {}", is, choices[0], choices[1]);
        if (node.op == Op::Within) return fmt::format("{}within {} of {}", is, choices[0], choices[1]);
        if (node.op == Op::IsOneOf) return is + listed(choices, "or");
        if (node.op == Op::IsNotOneOf) return is + "neither " + listed(choices, "nor");
        const bool no = node.op == Op::IsNot;
        return (is.empty() ? std::string{no ? "not " : "exactly "} : is + (no ? "not " : "")) + choices[0];
    }

    std::string part(std::uint32_t index, Op of) const {
        const Op op = expression_.node(index).op;
        return is_join(op) && op != of ? "(" + say(index) + ")" : say(index);
    }

    std::string denied(std::uint32_t index) const {
        const Node& node = expression_.node(index);
        const auto* spec = node.op == Op::Call ? function_named(node.word) : nullptr;
        if (spec != nullptr && spec->function == Function::Known) return say(node.operands[0]) + " is not known";
        const auto turned = [&](Op op) {
            Node other = node;
            other.op = op;
            return compared(other);
        };
        if (node.op == Op::Is) return turned(Op::IsNot);
        if (node.op == Op::IsNot) return turned(Op::Is);
        if (node.op == Op::AtLeast) return turned(Op::LessThan);
        if (node.op == Op::AtMost) return turned(Op::MoreThan);
        return "not (" + say(index) + ")";
    }

    /// As a demand, "yes" alone asks for nothing.
    std::string branch(std::uint32_t index) const {
        const Node& node = expression_.node(index);
        if (as_ == Said::Demand && node.op == Op::Truth && node.word == "yes") return "nothing is demanded";
        return say(index);
    }

    std::string chosen(const Node& node) const {
        const auto holds = given_ == nullptr ? std::nullopt : is_true_or_unknown(node.operands[0]);
        if (!holds)
            return fmt::format("{} if {}, otherwise {}", branch(node.operands[1]), part(node.operands[0], Op::And),
                               branch(node.operands[2]));
        const std::string taken = branch(node.operands[*holds ? 1 : 2]);
        if (as_ == Said::Number) return taken;
        return fmt::format("{} (as {})", taken, *holds ? say(node.operands[0]) : denied(node.operands[0]));
    }

    [[nodiscard]] std::optional<bool> is_true_or_unknown(std::uint32_t index) const {
        const auto holds = is_true(expression_, index, *given_);
        return holds ? std::optional{*holds} : std::nullopt;
    }

    const Expression& expression_;
    const Library* library_;
    const Given* given_;
    Said as_;
};

}  // namespace

std::string expression_in_words(const Expression& expression, std::uint32_t node, const Library* library) {
    return Speaker{expression, library, nullptr, Said::Anything}.say(node);
}

std::string demand_in_words(const Expression& expression, const Given& given) {
    return Speaker{expression, &given.context.library, &given, Said::Demand}.say(expression.root());
}

std::string number_in_words(const Expression& expression, const Given& given) {
    return Speaker{expression, &given.context.library, &given, Said::Number}.say(expression.root());
}

}  // namespace wm::checklist
