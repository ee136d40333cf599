#include <doctest/doctest.h>

#include <array>
#include <string>

#include "checklist/expression.hpp"

namespace wm::checklist {
namespace {

constexpr std::array names{
    "number", "share",  "word",   "date",    "truth", "name", "call", "neg",     "+",
    "-",      "*",      "/",      ">=",      "<=",    ">",    "<",    "between", "within",
    "is",     "is-not", "one-of", "none-of", "and",   "or",   "not",  "if"};

// The tree as nested lists: (+ 1 (* 2 3)).
std::string tree(const Expression& e, std::uint32_t index) {
    const Node& node = e.node(index);
    if (node.operands.empty() && node.op != Op::Call) return std::string{e.text_of(index)};
    std::string text =
        "(" +
        (node.op == Op::Call ? node.word : std::string{names[static_cast<std::size_t>(node.op)]});
    for (const auto operand : node.operands) text += " " + tree(e, operand);
    return text + ")";
}

std::string tree(const std::string& text) {
    const auto e = Expression::parse(text);
    return e ? tree(*e, e->root()) : "FAULT: " + e.error().what;
}

}  // namespace

TEST_CASE("operators bind from or, and, not, comparison, sum, product to sign") {
    struct Row {
        std::string text, shape;
    };
    for (const Row& row : {
             Row{"1 + 2 * 3", "(+ 1 (* 2 3))"},
             Row{"(1 + 2) * 3", "(* (+ 1 2) 3)"},
             Row{"1 - 2 - 3", "(- (- 1 2) 3)"},
             Row{"8 / 4 / 2", "(/ (/ 8 4) 2)"},
             Row{"-sys.tank_l * 2", "(* (neg sys.tank_l) 2)"},
             Row{"reading at least 1 + 1", "(>= reading (+ 1 1))"},
             Row{"a or b and not c is d", "(or a (and b (not (is c d))))"},
             Row{"reading between 2 and 3 and yes", "(and (between reading 2 3) yes)"},
             Row{"reading within 10 % of x", "(within reading 10 % x)"},
             Row{"x is not 'a'", "(is-not x 'a')"},
             Row{"x is one of ('a', 'b')", "(one-of x 'a' 'b')"},
             Row{"x is not one of ('a')", "(none-of x 'a')"},
             Row{"if a then b else c or d", "(if a b (or c d))"},
             Row{"if a then b else if c then d else e", "(if a b (if c d e))"},
             Row{"1 + (if a then 2 else 3)", "(+ 1 (if a 2 3))"},
             Row{"max(1, min(2, 3))", "(max 1 (min 2 3))"},
             Row{"-9 °C", "-9 °C"},
             Row{"reading at most -9 °C + 2 K", "(<= reading (+ -9 °C 2 K))"},
         }) {
        CAPTURE(row.text);
        CHECK(tree(row.text) == row.shape);
    }
}

TEST_CASE("a sign before a temperature names a place below zero") {
    const auto e = Expression::parse("-9 °C");
    REQUIRE(e);
    CHECK(e->node(e->root()).op == Op::Number);
    CHECK(e->node(e->root()).number.si == doctest::Approx(264.15));
}

TEST_CASE("what is no expression is refused with its place and its remedy") {
    struct Row {
        std::string text, what;
        std::uint32_t begin;
    };
    for (const Row& row : {
             Row{"", "is empty", 0},
             Row{"reading at most", "breaks off where a value is expected", 15},
             Row{"reading at 5", "has \"at\" without its second word", 8},
             Row{"reading between 1 or 2", "has \"between\" without \"and\"", 18},
             Row{"reading within 5 K", "has \"within\" without \"of\"", 18},
             Row{"reading at least 1 at most 2", "compares twice in a row", 19},
             Row{"(1 + 2", "does not close a parenthesis", 6},
             Row{"1 + 2)", "closes a parenthesis that was never opened", 5},
             Row{"0,5 K", "holds a comma outside a function", 1},
             Row{"a b", "goes on with \"b\" where it should end", 2},
             Row{"if a b", "has an \"if\" without \"then\"", 5},
             Row{"if a then b", "has an \"if\" without \"else\"", 11},
             Row{"x is one of 'a'", "has \"is one of\" without a list", 12},
             Row{"min(1 2)", "does not close a parenthesis", 6},
             Row{"and b", "has \"and\" where a value is expected", 0},
             Row{"1 + * 2", "has \"*\" where a value is expected", 4},
             Row{"x is true", "says \"true\"", 5},
         }) {
        CAPTURE(row.text);
        const auto e = Expression::parse(row.text);
        REQUIRE(!e);
        CHECK(e.error().what == row.what);
        CHECK(e.error().begin == row.begin);
        CHECK(!e.error().what_to_do.empty());
    }
}

TEST_CASE("nesting beyond 64 levels and texts beyond 2000 bytes are refused, whatever nests") {
    const auto many = [](std::string_view piece, int n) {
        std::string text;
        for (int i = 0; i < n; ++i) text += piece;
        return text;
    };
    for (const std::string& text :
         {many("(", 100) + "1" + many(")", 100), many("-", 300) + "x", many("not ", 100) + "yes",
          many("abs(", 100) + "1" + many(")", 100), many("if a then b else ", 80) + "c"}) {
        const auto e = Expression::parse(text);
        REQUIRE(!e);
        CHECK(e.error().what == "is nested more than 64 levels deep");
    }
    const auto long_text = Expression::parse(many("1 + ", 600) + "1");
    REQUIRE(!long_text);
    CHECK(long_text.error().what == "is longer than 2000 bytes");
    CHECK(Expression::parse(many("1 + ", 400) + "1"));
}

}  // namespace wm::checklist
