// What must not reach the TOML library.
#include "checklist/document_guard.hpp"

#include <fmt/format.h>

#include <cstddef>

namespace wm::checklist {
namespace {

constexpr int most_points_in_a_line = 100;
constexpr int most_marks = 60'000;

bool is_beyond_ascii(char c) {
    return (static_cast<unsigned char>(c) & 0x80U) != 0;
}
bool continues_a_character(char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}
bool is_blank(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

class Scanner {
public:
    explicit Scanner(std::string_view text) : text_{text} {
        if (text_.starts_with("\xEF\xBB\xBF")) at_ = 3;
    }

    std::optional<StumblingBlock> find() {
        while (at_ < text_.size() && !found_) step();
        return found_;
    }

private:
    void step() {
        const char c = text_[at_];
        if (c == '#') return skip_comment();
        if (c == '"' || c == '\'') {
            if (may_open_quotes()) return skip_string(c);
            return stumble("A quote stands in the middle of a value.",
                           "Begin texts with a quote and end them with one.");
        }
        if (c == '\n') points_ = 0;
        if (c == '.' && ++points_ > most_points_in_a_line)
            return stumble(fmt::format("A line holds more than {} points.", most_points_in_a_line),
                           "Write shorter lines.");
        // Each value or table has one of these before it.
        if ((c == '=' || c == ',' || c == '[' || c == '{') && ++marks_ > most_marks)
            return stumble(fmt::format("The file holds more than {} values and tables.", most_marks), "Write several files.");
        if (is_beyond_ascii(c))
            return stumble(fmt::format("\"{}\" stands outside quotes.", character_here()),
                           "Put texts in quotes; names of keys have plain letters.");
        ++at_;
    }

    // Elsewhere the library takes quotes and what is between them for part of a number.
    bool may_open_quotes() const {
        constexpr std::string_view before = " \t\r\n=[,{\xBF";
        return at_ == 0 || before.find(text_[at_ - 1]) != std::string_view::npos;
    }

    void skip_comment() {
        while (at_ < text_.size() && text_[at_] != '\n') ++at_;
    }

    void skip_string(char quote) {
        const std::string three(3, quote);
        const bool many_lines = text_.substr(at_).starts_with(three);
        at_ += many_lines ? 3 : 1;
        while (at_ < text_.size() && !found_) {
            const char c = text_[at_];
            if (c == '\\' && quote == '"') {
                skip_escape();
            } else if (many_lines && text_.substr(at_).starts_with(three)) {
                at_ += 3;
                // One or two quotes may stand before the three that close.
                while (at_ < text_.size() && text_[at_] == quote) ++at_;
                return;
            } else if (!many_lines && (c == quote || c == '\n')) {
                at_ += c == quote ? 1 : 0;
                return;
            } else {
                ++at_;
            }
        }
    }

    // A backslash at the end of a line swallows the blanks that follow, and the library looks at
    // the first letter behind them.
    void skip_escape() {
        ++at_;
        if (at_ < text_.size() && !is_blank(text_[at_]) && !is_beyond_ascii(text_[at_])) {
            ++at_;
            return;
        }
        while (at_ < text_.size() && is_blank(text_[at_])) ++at_;
        if (at_ < text_.size() && is_beyond_ascii(text_[at_]))
            stumble(fmt::format("\"{}\" follows a backslash.", character_here()),
                    "Begin the next line with a plain letter, or leave the backslash out.");
    }

    std::string character_here() const {
        std::size_t end = at_ + 1;
        while (end < text_.size() && continues_a_character(text_[end])) ++end;
        return std::string{text_.substr(at_, end - at_)};
    }

    void stumble(std::string what, std::string what_to_do) {
        Position at{1, 1};
        for (std::size_t i = 0; i < at_; ++i) {
            if (text_[i] == '\n')
                at = {at.line + 1, 1};
            else if (!continues_a_character(text_[i]))
                ++at.column;
        }
        found_ = StumblingBlock{at, std::move(what), std::move(what_to_do)};
    }

    std::string_view text_;
    std::size_t at_ = 0;
    int points_ = 0;
    int marks_ = 0;
    std::optional<StumblingBlock> found_;
};

}  // namespace

std::optional<StumblingBlock> stumbling_block(std::string_view text) {
    return Scanner{text}.find();
}

}  // namespace wm::checklist
