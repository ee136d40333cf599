#include "checklist/lexer.hpp"

#include <doctest/doctest.h>

#include <string>

namespace wm::checklist {
namespace {

// The tokens as one line: numbers with their unit in brackets, words in quotes.
std::string shown(std::string_view text) {
    const auto tokens = tokens_of(text);
    if (!tokens) return "FAULT: " + tokens.error().what;
    std::string all;
    for (const auto& token : *tokens) {
        if (token.kind == TokenKind::End) break;
        if (!all.empty()) all += ' ';
        if (token.kind == TokenKind::Word)
            all += "'" + token.text + "'";
        else if (token.kind == TokenKind::Number || token.kind == TokenKind::Share)
            all += token.text + "[" + std::string{token.unit.symbol} + "]";
        else if (token.kind == TokenKind::Date)
            all += "day:" + token.text;
        else
            all += token.text;
    }
    return all;
}

}  // namespace

TEST_CASE("a number takes the longest unit behind it, and keywords stay words") {
    struct Row {
        std::string_view text, tokens;
    };
    for (const Row row : {
             Row{"18 N·m", "18[N·m]"},
             Row{"18 N m", "18[N·m]"},
             Row{"3 m/s", "3[m/s]"},
             Row{"3 m / 2 s", "3[m] / 2[s]"},
             Row{"45°)", "45[°] )"},
             Row{"0.5 K", "0.5[K]"},
             Row{"10 % of", "10[%] of"},
             Row{"5 mg/L", "5[mg/L]"},
             Row{"3 and 4", "3[] and 4[]"},
             Row{"3 at least", "3[] at least"},
             Row{"3 - 2", "3[] - 2[]"},
             Row{"3 − 2", "3[] - 2[]"},
             Row{"1e3 kPa", "1e3[kPa]"},
             Row{"20 MJ/m²", "20[MJ/m²]"},
             Row{"'roof hook'", "'roof hook'"},
             Row{"today at least 2027-03-04", "today at least day:2027-03-04"},
             Row{"2027-03 - 4", "2027[] - 03[] - 4[]"},
             Row{"", ""},
         }) {
        CAPTURE(row.text);
        CHECK(shown(row.text) == row.tokens);
    }
}

TEST_CASE("a number keeps the value that its unit gives it") {
    const auto tokens = tokens_of("60 °C");
    REQUIRE(tokens);
    CHECK(tokens->front().number.si == doctest::Approx(333.15));
    CHECK(tokens->front().number.scale == units::Scale::Point);
    CHECK(tokens_of("10 %")->front().number.si == doctest::Approx(0.1));
}

TEST_CASE("what has no meaning is named with its place and its remedy") {
    struct Row {
        std::string_view text, what, what_to_do;
        std::uint32_t begin, end;
    };
    for (const Row row : {
             Row{"reading <= 5", "uses the sign \"<=\"", "Write it in words: \"at most\".", 8, 10},
             Row{"reading ≥ 5", "uses the sign \"≥\"", "Write it in words: \"at least\".", 8, 11},
             Row{"reading = 5", "uses the sign \"=\"", "Write it in words: \"is\".", 8, 9},
             Row{"5 furlong", "gives a number in \"furlong\", which is not a unit this tool knows",
                 "Use a unit of the list in the guide, for example kPa, °C, mm or N·m.", 2, 9},
             Row{"'open", "opens a word with ' and does not close it",
                 "Put a ' behind the word, for example 'roof hook'.", 0, 5},
             Row{"2027-02-30", "names 2027-02-30, a day no calendar has",
                 "Write year, month and day, for example 2027-03-04.", 0, 10},
             Row{"1e999", "holds a number that is too large or too small to count with",
                 "Write a number of ordinary size, if need be in a larger unit.", 0, 5},
             Row{"a ; b", "holds \";\", which has no meaning here",
                 "Use numbers with units, names of facts, 'words' in single quotes, + - * / and "
                 "parentheses.",
                 2, 3},
         }) {
        CAPTURE(row.text);
        const auto tokens = tokens_of(row.text);
        REQUIRE(!tokens);
        CHECK(tokens.error().what == row.what);
        CHECK(tokens.error().what_to_do == row.what_to_do);
        CHECK(tokens.error().begin == row.begin);
        CHECK(tokens.error().end == row.end);
    }
}

}  // namespace wm::checklist
