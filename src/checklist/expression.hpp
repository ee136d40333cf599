// Tolerance expressions: `reading within 10 % of sys.anchor_nm and reading at least 4 N·m`.
//
// An expression is a text that people write and read; here it is also a small tree. It has no
// loops, no assignments and no user functions, so that each one ends, and ends quickly:
//   sum      A + B, A - B, A * B, A / B, -A, ( )
//   compare  A at least B · at most · more than · less than · between B and C · within B of C ·
//            is · is not · is one of ('a', 'b')
//   join     and · or · not · if C then A else B
//   literals 18 N·m · 10 % · 60 °C · 'word' · 2027-03-04 · yes · no
// `within 10 % of X` is relative to X; anywhere else 10 % is the number 0.1.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "checklist/position.hpp"
#include "problem/result.hpp"
#include "units/unit.hpp"

namespace wm::checklist {

enum class Op {
    Number,  ///< `18 N·m`; the amount stands in `number`
    Share,   ///< `10 %`; `number` holds 0.1
    Word,    ///< `'roof hook'`
    Date,    ///< `2027-03-04`
    Truth,   ///< yes, no: `word` is "yes" or "no"
    Name,    ///< a fact, a derived value, `reading`, `today`, a channel, an extra reading
    Call,    ///< `word` is the name of the function
    Negate,
    Add,
    Subtract,
    Multiply,
    Divide,
    AtLeast,
    AtMost,
    MoreThan,
    LessThan,
    Between,  ///< operands: what, low, high
    Within,   ///< operands: what, how far, of what
    Is,
    IsNot,
    IsOneOf,  ///< operands: what, then each choice
    IsNotOneOf,
    And,
    Or,
    Not,
    If,  ///< operands: condition, then, else
};

/// One node of the tree; operands are indices into the nodes of the same expression, always
/// smaller than the node's own.
struct Node {
    Op op = Op::Truth;
    std::uint32_t begin = 0;  ///< bytes of the source text this node stands for
    std::uint32_t end = 0;
    std::vector<std::uint32_t> operands;
    units::Amount number{};
    units::Unit unit{};  ///< of a Number, as it was written
    std::string word;
};

/// A parsed expression with its text and where in the file the text begins.
class Expression {
public:
    /// Refuses, with column and remedy: what is no expression, more than 2000 bytes, more than 64
    /// levels of nesting. `where` in the problem is left to the caller; use `caret_of` for the
    /// place.
    struct Fault {
        std::string what;
        std::string what_to_do;
        std::uint32_t begin = 0;  ///< bytes of the source text at fault
        std::uint32_t end = 0;
    };
    [[nodiscard]] static tl::expected<Expression, Fault> parse(std::string text, Position at = {});

    [[nodiscard]] const std::string& text() const { return text_; }
    [[nodiscard]] Position at() const { return at_; }
    [[nodiscard]] const std::vector<Node>& nodes() const { return nodes_; }
    [[nodiscard]] std::uint32_t root() const {
        return static_cast<std::uint32_t>(nodes_.size() - 1);
    }
    [[nodiscard]] const Node& node(std::uint32_t index) const { return nodes_[index]; }
    /// The part of the text a node was read from.
    [[nodiscard]] std::string_view text_of(std::uint32_t index) const;

    /// Each name once, in the order of the text: facts, derived values, `reading`, channels.
    [[nodiscard]] std::vector<std::string> names() const;
    /// The checks asked for by outcome(), answer(), value() and commissioning(), each once.
    [[nodiscard]] std::vector<std::string> checks_named() const;
    /// Whether the node or anything below it names `name`.
    [[nodiscard]] bool mentions(std::uint32_t index, std::string_view name) const;

private:
    Expression() = default;
    std::string text_;
    Position at_;
    std::vector<Node> nodes_;
};

}  // namespace wm::checklist
