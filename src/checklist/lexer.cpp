// Splitting a tolerance expression into words.
#include "checklist/lexer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <utility>

#include "measure/instrument.hpp"

namespace wm::checklist {
namespace {

using Fault = Expression::Fault;

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}
bool is_beyond_ascii(char c) {
    return (static_cast<unsigned char>(c) & 0x80U) != 0;
}

constexpr std::array<std::string_view, 22> keywords{
    "and",  "or",      "not",    "if", "then", "else", "at",  "least", "most", "more",  "less",
    "than", "between", "within", "of", "is",   "one",  "yes", "no",    "true", "false", "reading"};

// What people of other languages write, and our word for it. Longer signs first.
constexpr std::array<std::pair<std::string_view, std::string_view>, 14> foreign{{
    {"<=", "at most"},
    {">=", "at least"},
    {"==", "is"},
    {"!=", "is not"},
    {"<>", "is not"},
    {"≤", "at most"},
    {"≥", "at least"},
    {"≠", "is not"},
    {"<", "less than"},
    {">", "more than"},
    {"=", "is"},
    {"±", "within … of …"},
    {"&&", "and"},
    {"||", "or"},
}};

class Lexer {
public:
    explicit Lexer(std::string_view text) : text_{text} {}

    tl::expected<std::vector<Token>, Fault> all() {
        std::vector<Token> tokens;
        for (;;) {
            skip_blanks();
            if (at_ == text_.size()) break;
            auto token = next();
            if (!token) return tl::unexpected(std::move(token.error()));
            tokens.push_back(*std::move(token));
        }
        tokens.push_back(token_of(TokenKind::End, at_));
        return tokens;
    }

private:
    void skip_blanks() {
        while (at_ < text_.size()) {
            const char c = text_[at_];
            if (c == ' ' || c == '\t' || c == '\n' || c == '\r')
                ++at_;
            else if (text_.substr(at_).starts_with("\xC2\xA0"))
                at_ += 2;
            else
                break;
        }
    }

    Token token_of(TokenKind kind, std::size_t begin) const {
        Token token;
        token.kind = kind;
        token.begin = static_cast<std::uint32_t>(begin);
        token.end = static_cast<std::uint32_t>(at_);
        token.text = text_.substr(begin, at_ - begin);
        return token;
    }

    Fault fault(std::string what, std::string what_to_do, std::size_t begin,
                std::size_t end) const {
        return {std::move(what), std::move(what_to_do), static_cast<std::uint32_t>(begin),
                static_cast<std::uint32_t>(std::min(end, text_.size()))};
    }

    tl::expected<Token, Fault> next() {
        const char c = text_[at_];
        if (is_digit(c)) return looks_like_day() ? day() : number();
        if (is_letter(c)) return name();
        if (c == '\'') return word();
        return symbol();
    }

    bool looks_like_day() const {
        const auto rest = text_.substr(at_);
        if (rest.size() < 10 || rest[4] != '-' || rest[7] != '-') return false;
        for (const std::size_t i : {0U, 1U, 2U, 3U, 5U, 6U, 8U, 9U})
            if (!is_digit(rest[i])) return false;
        return rest.size() == 10 || !is_digit(rest[10]);
    }

    tl::expected<Token, Fault> day() {
        const auto begin = at_;
        at_ += 10;
        auto token = token_of(TokenKind::Date, begin);
        if (!measure::is_iso_day(token.text)) {
            return tl::unexpected(fault(fmt::format("names {}, a day no calendar has", token.text),
                                        "Write year, month and day, for example 2027-03-04.", begin,
                                        at_));
        }
        return token;
    }

    void skip_digits() {
        while (at_ < text_.size() && is_digit(text_[at_])) ++at_;
    }

    tl::expected<Token, Fault> number() {
        const auto begin = at_;
        skip_digits();
        if (at_ + 1 < text_.size() && text_[at_] == '.' && is_digit(text_[at_ + 1])) {
            ++at_;
            skip_digits();
        }
        if (at_ + 1 < text_.size() && (text_[at_] == 'e' || text_[at_] == 'E')) {
            const bool sign = text_[at_ + 1] == '-' || text_[at_ + 1] == '+';
            const auto first = at_ + (sign ? 2U : 1U);
            if (first < text_.size() && is_digit(text_[first])) {
                at_ = first;
                skip_digits();
            }
        }
        double value = 0.0;
        const auto [end, problem] =
            std::from_chars(text_.data() + begin, text_.data() + at_, value);
        if (problem != std::errc{} || end != text_.data() + at_ || !std::isfinite(value)) {
            return tl::unexpected(
                fault("holds a number that is too large or too small to count with",
                      "Write a number of ordinary size, if need be in a larger unit.", begin, at_));
        }
        auto token = token_of(TokenKind::Number, begin);
        if (auto problem_with_unit = take_unit(token, value)) {
            return tl::unexpected(*std::move(problem_with_unit));
        }
        return token;
    }

    // A number takes the longest unit behind it: "N·m" before "N", "m/s" before "m".
    std::optional<Fault> take_unit(Token& token, double value) {
        token.unit = *units::unit_named("");
        token.number = units::Amount::plain(value);
        std::size_t start = at_;
        while (start < text_.size() && text_[start] == ' ') ++start;
        if (text_.substr(start).starts_with("\xC2\xA0")) start += 2;
        if (start == text_.size()) return std::nullopt;
        const bool candidate = is_letter(text_[start]) || is_beyond_ascii(text_[start]) ||
                               text_[start] == '%' || text_.substr(start).starts_with("1/");
        if (!candidate) return std::nullopt;
        if (text_.substr(start).starts_with("\xE2\x88\x92") || text_.substr(start).starts_with("–"))
            return std::nullopt;

        constexpr std::size_t longest_spelling = 16;
        for (std::size_t length = std::min(longest_spelling, text_.size() - start); length > 0;
             --length) {
            if (!ends_a_word(start + length)) continue;
            const auto spelling = text_.substr(start, length);
            if (spelling == "x" || spelling == "1" || is_keyword(spelling)) continue;
            const auto unit = units::unit_named(spelling);
            if (!unit) continue;
            at_ = start + length;
            token.end = static_cast<std::uint32_t>(at_);
            token.unit = *unit;
            token.number = units::Amount::of(value, *unit);
            if (unit->symbol == "%") token.kind = TokenKind::Share;
            return std::nullopt;
        }
        return unknown_unit(start);
    }

    bool ends_a_word(std::size_t end) const {
        if (end >= text_.size()) return true;
        const char next = text_[end];
        return !is_letter(next) && !is_digit(next) && !is_beyond_ascii(next);
    }

    std::optional<Fault> unknown_unit(std::size_t start) const {
        std::size_t end = start;
        while (end < text_.size() && (is_letter(text_[end]) || is_beyond_ascii(text_[end]))) ++end;
        const auto word = text_.substr(start, end - start);
        if (is_keyword(word)) return std::nullopt;
        for (const auto& [sign, ours] : foreign)
            if (text_.substr(start).starts_with(sign)) return std::nullopt;
        return fault(
            fmt::format("gives a number in \"{}\", which is not a unit this tool knows", word),
            "Use a unit of the list in the guide, for example kPa, °C, mm or N·m.", start, end);
    }

    tl::expected<Token, Fault> name() {
        const auto begin = at_;
        while (at_ < text_.size() &&
               (is_letter(text_[at_]) || is_digit(text_[at_]) || text_[at_] == '.'))
            ++at_;
        return token_of(TokenKind::Name, begin);
    }

    tl::expected<Token, Fault> word() {
        const auto begin = at_;
        const auto close = text_.find('\'', begin + 1);
        if (close == std::string_view::npos) {
            return tl::unexpected(fault("opens a word with ' and does not close it",
                                        "Put a ' behind the word, for example 'roof hook'.", begin,
                                        text_.size()));
        }
        at_ = close + 1;
        auto token = token_of(TokenKind::Word, begin);
        token.text = text_.substr(begin + 1, close - begin - 1);
        return token;
    }

    tl::expected<Token, Fault> symbol() {
        const auto begin = at_;
        const auto rest = text_.substr(at_);
        if (rest.starts_with("\xE2\x88\x92")) {  // U+2212, the minus sign of typeset text
            at_ += 3;
            auto token = token_of(TokenKind::Symbol, begin);
            token.text = "-";
            return token;
        }
        if (std::string_view{"+-*/(),"}.find(rest.front()) != std::string_view::npos) {
            ++at_;
            return token_of(TokenKind::Symbol, begin);
        }
        for (const auto& [sign, ours] : foreign) {
            if (!rest.starts_with(sign)) continue;
            return tl::unexpected(fault(fmt::format("uses the sign \"{}\"", sign),
                                        fmt::format("Write it in words: \"{}\".", ours), begin,
                                        begin + sign.size()));
        }
        std::size_t end = begin + 1;
        while (end < text_.size() && (static_cast<unsigned char>(text_[end]) & 0xC0U) == 0x80U)
            ++end;
        return tl::unexpected(
            fault(fmt::format("holds \"{}\", which has no meaning here",
                              text_.substr(begin, end - begin)),
                  "Use numbers with units, names of facts, 'words' in single quotes, + - * / and "
                  "parentheses.",
                  begin, end));
    }

    std::string_view text_;
    std::size_t at_ = 0;
};

}  // namespace

bool is_keyword(std::string_view name) {
    return std::find(keywords.begin(), keywords.end(), name) != keywords.end();
}

tl::expected<std::vector<Token>, Fault> tokens_of(std::string_view text) {
    return Lexer{text}.all();
}

}  // namespace wm::checklist
