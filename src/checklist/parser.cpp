// Reading a tolerance expression into its tree: recursive descent, one function a level of binding.
#include <fmt/format.h>

#include <utility>

#include "checklist/expression.hpp"
#include "checklist/lexer.hpp"

namespace wm::checklist {
namespace {

using Fault = Expression::Fault;
using Index = std::uint32_t;
using Parsed = tl::expected<Index, Fault>;

constexpr std::size_t most_bytes = 2000;
constexpr int most_levels = 64;

class Parser {
public:
    explicit Parser(std::vector<Token> tokens) : tokens_{std::move(tokens)} {}

    tl::expected<std::vector<Node>, Fault> whole() {
        if (is_end()) {
            return tl::unexpected(
                Fault{"is empty", "Write a condition, or leave the key out.", 0, 0});
        }
        const auto root = expression(0);
        if (!root) return tl::unexpected(root.error());
        if (!is_end()) return tl::unexpected(leftover());
        return std::move(nodes_);
    }

private:
    const Token& here() const { return tokens_[at_]; }
    const Token& ahead(std::size_t n) const {
        return tokens_[std::min(at_ + n, tokens_.size() - 1)];
    }
    bool is_end() const { return here().kind == TokenKind::End; }
    static bool is_name(const Token& token, std::string_view word) {
        return token.kind == TokenKind::Name && token.text == word;
    }
    bool is_symbol(std::string_view sign) const {
        return here().kind == TokenKind::Symbol && here().text == sign;
    }
    bool take(std::string_view word) {
        if (!is_name(here(), word)) return false;
        ++at_;
        return true;
    }
    bool take(std::string_view first, std::string_view second) {
        if (!is_name(here(), first) || !is_name(ahead(1), second)) return false;
        at_ += 2;
        return true;
    }
    bool take_symbol(std::string_view sign) {
        if (!is_symbol(sign)) return false;
        ++at_;
        return true;
    }

    Fault fault_here(std::string what, std::string what_to_do) const {
        return {std::move(what), std::move(what_to_do), here().begin, here().end};
    }
    Fault too_deep() const {
        return fault_here(fmt::format("is nested more than {} levels deep", most_levels),
                          "Split it into simpler conditions joined with \"and\".");
    }
    Fault leftover() const {
        if (is_symbol(")")) {
            return fault_here("closes a parenthesis that was never opened", "Take the ) away.");
        }
        if (is_symbol(",")) {
            return fault_here("holds a comma outside a function",
                              "Decimals are written with a point here, for example 0.5 K.");
        }
        return fault_here(fmt::format("goes on with \"{}\" where it should end", here().text),
                          "Join two conditions with \"and\" or \"or\".");
    }

    Index add(Op op, std::uint32_t begin, std::vector<Index> operands) {
        Node node;
        node.op = op;
        node.begin = begin;
        node.end = tokens_[at_ - 1].end;
        node.operands = std::move(operands);
        nodes_.push_back(std::move(node));
        return static_cast<Index>(nodes_.size() - 1);
    }

    Parsed expression(int depth) {
        if (depth > most_levels) return tl::unexpected(too_deep());
        return is_name(here(), "if") ? choice(depth) : any_of(depth);
    }

    Parsed choice(int depth) {
        const auto begin = here().begin;
        ++at_;
        const auto condition = expression(depth + 1);
        if (!condition) return condition;
        if (!take("then")) {
            return tl::unexpected(fault_here("has an \"if\" without \"then\"",
                                             "Write: if CONDITION then VALUE else OTHER VALUE."));
        }
        const auto one = expression(depth + 1);
        if (!one) return one;
        if (!take("else")) {
            return tl::unexpected(
                fault_here("has an \"if\" without \"else\"",
                           "Write: if CONDITION then VALUE else OTHER VALUE. Where "
                           "nothing is demanded write \"else yes\"."));
        }
        const auto other = expression(depth + 1);
        if (!other) return other;
        return add(Op::If, begin, {*condition, *one, *other});
    }

    Parsed any_of(int depth) {
        const auto begin = here().begin;
        auto left = all_of(depth);
        while (left && take("or")) {
            const auto right = all_of(depth);
            if (!right) return right;
            left = add(Op::Or, begin, {*left, *right});
        }
        return left;
    }

    Parsed all_of(int depth) {
        const auto begin = here().begin;
        auto left = negation(depth);
        while (left && take("and")) {
            const auto right = negation(depth);
            if (!right) return right;
            left = add(Op::And, begin, {*left, *right});
        }
        return left;
    }

    Parsed negation(int depth) {
        if (depth > most_levels) return tl::unexpected(too_deep());
        const auto begin = here().begin;
        if (!take("not")) return comparison(depth);
        const auto inner = negation(depth + 1);
        if (!inner) return inner;
        return add(Op::Not, begin, {*inner});
    }

    Parsed comparison(int depth) {
        const auto begin = here().begin;
        const auto left = sum(depth);
        if (!left) return left;
        const auto compared = compared_with(*left, begin, depth);
        if (compared && *compared != *left && starts_comparison()) {
            return tl::unexpected(
                fault_here("compares twice in a row", "Join the two comparisons with \"and\"."));
        }
        return compared;
    }

    bool starts_comparison() const {
        return is_name(here(), "at") || is_name(here(), "more") || is_name(here(), "less") ||
               is_name(here(), "between") || is_name(here(), "within") || is_name(here(), "is");
    }

    Parsed compared_with(Index left, std::uint32_t begin, int depth) {
        if (take("at", "least")) return binary(Op::AtLeast, left, begin, depth);
        if (take("at", "most")) return binary(Op::AtMost, left, begin, depth);
        if (take("more", "than")) return binary(Op::MoreThan, left, begin, depth);
        if (take("less", "than")) return binary(Op::LessThan, left, begin, depth);
        if (take("between")) return ternary(Op::Between, "and", left, begin, depth);
        if (take("within")) return ternary(Op::Within, "of", left, begin, depth);
        if (take("is")) return equality(left, begin, depth);
        if (starts_comparison()) {
            return tl::unexpected(fault_here(
                fmt::format("has \"{}\" without its second word", here().text),
                "The comparisons are: at least, at most, more than, less than, between … and …, "
                "within … of …, is, is not, is one of (…)."));
        }
        return left;
    }

    Parsed binary(Op op, Index left, std::uint32_t begin, int depth) {
        const auto right = sum(depth);
        if (!right) return right;
        return add(op, begin, {left, *right});
    }

    Parsed ternary(Op op, std::string_view joint, Index left, std::uint32_t begin, int depth) {
        const auto first = sum(depth);
        if (!first) return first;
        if (!take(joint)) {
            const std::string_view verb = op == Op::Between ? "between" : "within";
            return tl::unexpected(
                fault_here(fmt::format("has \"{}\" without \"{}\"", verb, joint),
                           fmt::format("Write: reading {} A {} B.", verb, joint)));
        }
        const auto second = sum(depth);
        if (!second) return second;
        return add(op, begin, {left, *first, *second});
    }

    Parsed equality(Index left, std::uint32_t begin, int depth) {
        const bool negated = take("not");
        if (!take("one", "of")) return binary(negated ? Op::IsNot : Op::Is, left, begin, depth);
        if (!take_symbol("(")) {
            return tl::unexpected(fault_here("has \"is one of\" without a list",
                                             "Write: is one of ('first', 'second')."));
        }
        std::vector<Index> operands{left};
        if (auto problem = list_into(operands, depth)) return tl::unexpected(*std::move(problem));
        return add(negated ? Op::IsNotOneOf : Op::IsOneOf, begin, std::move(operands));
    }

    // Expressions separated by commas up to the closing parenthesis.
    std::optional<Fault> list_into(std::vector<Index>& operands, int depth) {
        if (take_symbol(")")) return std::nullopt;
        for (;;) {
            const auto item = expression(depth + 1);
            if (!item) return item.error();
            operands.push_back(*item);
            if (take_symbol(")")) return std::nullopt;
            if (!take_symbol(",")) {
                return fault_here("does not close a parenthesis",
                                  "Put a , between the items and a ) behind the last.");
            }
        }
    }

    Parsed sum(int depth) {
        const auto begin = here().begin;
        auto left = product(depth);
        while (left && (is_symbol("+") || is_symbol("-"))) {
            const Op op = is_symbol("+") ? Op::Add : Op::Subtract;
            ++at_;
            const auto right = product(depth);
            if (!right) return right;
            left = add(op, begin, {*left, *right});
        }
        return left;
    }

    Parsed product(int depth) {
        const auto begin = here().begin;
        auto left = signed_operand(depth);
        while (left && (is_symbol("*") || is_symbol("/"))) {
            const Op op = is_symbol("*") ? Op::Multiply : Op::Divide;
            ++at_;
            const auto right = signed_operand(depth);
            if (!right) return right;
            left = add(op, begin, {*left, *right});
        }
        return left;
    }

    Parsed signed_operand(int depth) {
        if (depth > most_levels) return tl::unexpected(too_deep());
        const auto begin = here().begin;
        if (!take_symbol("-")) return operand(depth);
        // -9 °C is a place on the scale below zero, not the opposite of 9 °C.
        if (here().kind == TokenKind::Number || here().kind == TokenKind::Share) {
            const auto literal = operand(depth);
            if (!literal) return literal;
            Node& node = nodes_[*literal];
            node.number = units::Amount::of(-node.number.in(node.unit), node.unit);
            node.begin = begin;
            return literal;
        }
        const auto inner = signed_operand(depth + 1);
        if (!inner) return inner;
        return add(Op::Negate, begin, {*inner});
    }

    Parsed operand(int depth) {
        const Token token = here();
        switch (token.kind) {
            case TokenKind::Number:
                return literal(Op::Number, token);
            case TokenKind::Share:
                return literal(Op::Share, token);
            case TokenKind::Word:
                return literal(Op::Word, token);
            case TokenKind::Date:
                return literal(Op::Date, token);
            case TokenKind::Name:
                return named(token, depth);
            case TokenKind::Symbol:
                return parenthesis(token, depth);
            case TokenKind::End:
                break;
        }
        return tl::unexpected(fault_here("breaks off where a value is expected",
                                         "Add a number with its unit, a fact or `reading`."));
    }

    Parsed literal(Op op, const Token& token) {
        ++at_;
        const auto index = add(op, token.begin, {});
        nodes_[index].number = token.number;
        nodes_[index].unit = token.unit;
        nodes_[index].word = token.text;
        return index;
    }

    Parsed named(const Token& token, int depth) {
        if (token.text == "yes" || token.text == "no") return literal(Op::Truth, token);
        if (token.text == "true" || token.text == "false") {
            return tl::unexpected(
                fault_here(fmt::format("says \"{}\"", token.text), "The words are yes and no."));
        }
        if (token.text == "if") return expression(depth + 1);
        if (is_keyword(token.text) && token.text != "reading") {
            return tl::unexpected(
                fault_here(fmt::format("has \"{}\" where a value is expected", token.text),
                           "Add a number with its unit, a fact or `reading` before it."));
        }
        ++at_;
        if (!take_symbol("(")) {
            const auto index = add(Op::Name, token.begin, {});
            nodes_[index].word = token.text;
            return index;
        }
        std::vector<Index> operands;
        if (auto problem = list_into(operands, depth)) return tl::unexpected(*std::move(problem));
        const auto index = add(Op::Call, token.begin, std::move(operands));
        nodes_[index].word = token.text;
        return index;
    }

    Parsed parenthesis(const Token& token, int depth) {
        if (token.text != "(") {
            return tl::unexpected(
                fault_here(fmt::format("has \"{}\" where a value is expected", token.text),
                           "Add a number with its unit, a fact or `reading` before it."));
        }
        ++at_;
        const auto inner = expression(depth + 1);
        if (!inner) return inner;
        if (!take_symbol(")")) {
            return tl::unexpected(fault_here("does not close a parenthesis",
                                             "Put a ) behind what belongs together."));
        }
        return inner;
    }

    std::vector<Token> tokens_;
    std::size_t at_ = 0;
    std::vector<Node> nodes_;
};

}  // namespace

tl::expected<Expression, Fault> Expression::parse(std::string text, Position at) {
    if (text.size() > most_bytes) {
        return tl::unexpected(Fault{fmt::format("is longer than {} bytes", most_bytes),
                                    "Say the same with fewer words, or split the check in two.", 0,
                                    0});
    }
    auto tokens = tokens_of(text);
    if (!tokens) return tl::unexpected(std::move(tokens.error()));
    auto nodes = Parser{*std::move(tokens)}.whole();
    if (!nodes) return tl::unexpected(std::move(nodes.error()));
    Expression expression;
    expression.text_ = std::move(text);
    expression.at_ = at;
    expression.nodes_ = *std::move(nodes);
    return expression;
}

}  // namespace wm::checklist
