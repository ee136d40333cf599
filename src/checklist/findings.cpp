// Findings, their excerpts, and how one is printed.
#include "checklist/findings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "checklist/words.hpp"

namespace wm::checklist {
namespace {

constexpr std::string_view indent = "    ";
// A longer line is shown up to here; what is meant stands near its beginning anyway.
constexpr std::size_t longest_shown = 400;
// A file that is wrong from top to bottom need not be told so more often than this.
constexpr std::size_t most_findings = 200;

// A sentence may list all answers of a check, and those may be half a file.
constexpr std::size_t longest_sentence = 4000;

bool continues_a_character(char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

std::string kept_short(std::string text) {
    if (text.size() <= longest_sentence) return text;
    std::size_t end = longest_sentence;
    while (end > 0 && continues_a_character(text[end])) --end;
    return text.substr(0, end) + " …";
}

std::size_t characters_in(std::string_view text) {
    return static_cast<std::size_t>(
        std::count_if(text.begin(), text.end(), [](char c) { return !continues_a_character(c); }));
}

std::size_t byte_of_column(std::string_view line, std::uint32_t column) {
    std::size_t at = 0;
    for (std::uint32_t c = 1; c < column && at < line.size(); ++c) {
        ++at;
        while (at < line.size() && continues_a_character(line[at])) ++at;
    }
    return at;
}

// Where the value that begins at `from` ends: a quoted text at its quote, a list or table at its
// bracket, anything else at a comma, a comment or the end of the line.
std::size_t end_of_value(std::string_view line, std::size_t from) {
    if (from >= line.size()) return line.size();
    const char first = line[from];
    if (first == '"' || first == '\'') {
        const auto close = line.find(first, from + 1);
        return close == std::string_view::npos ? line.size() : close + 1;
    }
    const char closing = first == '[' ? ']' : first == '{' ? '}' : '\0';
    const auto end = closing == '\0' ? line.find_first_of(",#]}", from) : line.rfind(closing);
    if (end == std::string_view::npos || end < from) return line.size();
    if (closing != '\0') return end + 1;
    return from + trimmed(line.substr(from, end - from)).size();
}

std::string with_carets(std::string_view line, std::size_t begin, std::size_t end) {
    const auto shown = line.substr(0, std::min(line.size(), longest_shown));
    const auto blanks = line.find_first_not_of(" \t");
    const auto start = blanks == std::string_view::npos ? 0 : blanks;
    if (begin < start || begin >= shown.size())
        return std::string{indent} + std::string{trimmed(shown)};
    const auto before = characters_in(line.substr(start, begin - start));
    const auto width = std::max<std::size_t>(
        1, characters_in(line.substr(begin, std::min(end, shown.size()) - begin)));
    return fmt::format("{}{}\n{}{}{}", indent, shown.substr(start), indent,
                       std::string(before, ' '), std::string(width, '^'));
}

}  // namespace

Findings::Findings(std::string_view text) : text_{text} {
    line_starts_.push_back(0);
    for (std::size_t at = text.find('\n'); at != std::string_view::npos;
         at = text.find('\n', at + 1))
        line_starts_.push_back(at + 1);
}

std::string_view Findings::line(std::uint32_t number) const {
    if (number == 0 || number > line_starts_.size()) return {};
    const auto begin = line_starts_[number - 1];
    const auto end = text_.find('\n', begin);
    auto found = text_.substr(begin, end == std::string_view::npos ? end : end - begin);
    if (found.ends_with('\r')) found.remove_suffix(1);
    return found;
}

std::string Findings::excerpt(Position at) const {
    const auto source = line(at.line);
    if (source.empty()) return {};
    const auto begin = byte_of_column(source, at.column);
    return with_carets(source, begin, end_of_value(source, begin));
}

std::string Findings::excerpt(Position at, std::string_view expression, std::uint32_t begin,
                              std::uint32_t end) const {
    const auto source = line(at.line);
    if (source.empty()) return {};
    const auto from = byte_of_column(source, at.column);
    const auto found = source.find(expression, from);
    if (found == std::string_view::npos) return excerpt(at);
    return with_carets(source, found + begin, found + end);
}

bool Findings::is_full() const {
    return findings_.size() >= most_findings;
}

void Findings::add(Finding finding) {
    ++count_;
    if (is_full()) return;
    finding.what = kept_short(std::move(finding.what));
    finding.what_to_do = kept_short(std::move(finding.what_to_do));
    findings_.push_back(std::move(finding));
}

void Findings::error(Position at, std::string what, std::string what_to_do) {
    add({at, std::move(what), std::move(what_to_do), Grade::Error, excerpt(at)});
}

void Findings::advise(Position at, std::string what, std::string what_to_do) {
    add({at, std::move(what), std::move(what_to_do), Grade::Advice, excerpt(at)});
}

void Findings::error_in(Position at, std::string_view expression, std::string_view subject,
                        const Expression::Fault& fault) {
    Finding finding{at, fmt::format("{} {}", subject, fault.what), fault.what_to_do, Grade::Error,
                    excerpt(at, expression, fault.begin, fault.end)};
    const auto source = line(at.line);
    const auto found = source.find(expression, byte_of_column(source, at.column));
    if (found != std::string_view::npos) {
        const auto before =
            source.substr(0, found + std::min<std::size_t>(fault.begin, expression.size()));
        finding.at.column = static_cast<std::uint32_t>(characters_in(before)) + 1;
    }
    add(std::move(finding));
}

std::vector<Finding> Findings::taken() {
    std::stable_sort(findings_.begin(), findings_.end(), [](const Finding& a, const Finding& b) {
        return std::pair{a.at.line, a.at.column} < std::pair{b.at.line, b.at.column};
    });
    return std::exchange(findings_, {});
}

std::string told(const Finding& finding, std::string_view file_name) {
    auto text = fmt::format("{}:{}: {}\n", file_name, finding.at.line, finding.what);
    if (!finding.excerpt.empty()) text += finding.excerpt + "\n";
    return text + finding.what_to_do;
}

}  // namespace wm::checklist
