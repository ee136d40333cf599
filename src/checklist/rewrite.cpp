#include "checklist/rewrite.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "checklist/differences.hpp"
#include "checklist/document.hpp"

namespace wm::checklist {

namespace {

/// Byte where a line begins; lines count from 1.
std::size_t start_of_line(std::string_view text, std::uint32_t line) {
    std::size_t at = 0;
    for (std::uint32_t i = 1; i < line; ++i) {
        const auto end = text.find('\n', at);
        if (end == std::string_view::npos) return text.size();
        at = end + 1;
    }
    return at;
}

/// Byte of a position; columns count characters.
std::size_t byte_of(std::string_view text, Position at) {
    std::size_t byte = start_of_line(text, at.line);
    for (std::uint32_t column = 1; column < at.column && byte < text.size(); ++column) {
        ++byte;
        while (byte < text.size() && (static_cast<unsigned char>(text[byte]) & 0xC0U) == 0x80U) ++byte;
    }
    return byte;
}

/// One past the end of the string that begins there.
std::size_t end_of_string(std::string_view text, std::size_t at) {
    const char quote = text[at];
    const std::string three(3, quote);
    if (text.substr(at, 3) == three) {
        auto end = at + 3;
        while (end < text.size() && text.substr(end, 3) != three) end += quote == '"' && text[end] == '\\' ? 2 : 1;
        end = std::min(end + 3, text.size());
        // A quote or two may stand before the closing ones.
        while (end < text.size() && text[end] == quote) ++end;
        return end;
    }
    auto end = at + 1;
    while (end < text.size() && text[end] != quote && text[end] != '\n') end += quote == '"' && text[end] == '\\' ? 2 : 1;
    return std::min(end + 1, text.size());
}

std::size_t end_of_value(std::string_view text, std::size_t at) {
    int open = 0;
    while (at < text.size()) {
        const char c = text[at];
        if (c == '"' || c == '\'') {
            at = end_of_string(text, at);
            if (open == 0) return at;
            continue;
        }
        if (c == '[' || c == '{') ++open;
        if (c == ']' || c == '}') {
            ++at;
            if (--open == 0) return at;
            continue;
        }
        if (c == '#' && open > 0) {
            at = std::min(text.find('\n', at), text.size());
            continue;
        }
        if (open == 0 && (c == '\n' || c == '#')) {
            while (at > 0 && (text[at - 1] == ' ' || text[at - 1] == '\t' || text[at - 1] == '\r')) --at;
            return at;
        }
        ++at;
    }
    return at;
}

const Item* table_at(const Item& list, std::string_view check) {
    if (check.empty()) return list.find("checklist");
    const Item* checks = list.find("check");
    if (checks == nullptr) return nullptr;
    for (const Item& each : checks->items)
        if (const auto* id = each.find("id"); id != nullptr && id->text == check) return &each;
    return nullptr;
}

tl::unexpected<Problem> not_there(std::string what, std::string_view file_name) {
    return refused({std::move(what), std::string{file_name}, "Change the text itself.", ProblemKind::Unreadable});
}

}  // namespace

std::string quoted(std::string_view text) {
    std::string spelled = "\"";
    for (const char c : text) {
        if (c == '"' || c == '\\') spelled += '\\';
        if (c == '\n') spelled += "\\n";
        else if (c == '\t') spelled += "\\t";
        else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) spelled += fmt::format("\\u{:04X}", static_cast<unsigned char>(c));
        else spelled += c;
    }
    return spelled + '"';
}

Result<std::string> with_value(std::string_view text, std::string_view file_name, const ValueAt& at, std::string_view value) {
    const auto list = read_document(text, file_name);
    if (!list) return tl::unexpected(list.error());
    const Item* table = table_at(*list, at.check);
    if (table == nullptr)
        return not_there(at.check.empty() ? "The text has no table [checklist]." : fmt::format("There is no check {} in the text.", at.check), file_name);
    std::string changed{text};
    if (const Item* now = table->find(at.key)) {
        const auto begin = byte_of(text, now->at);
        changed.replace(begin, end_of_value(text, begin) - begin, value);
    } else {
        const Item* name = table->find(at.check.empty() ? "name" : "id");
        if (name == nullptr) return not_there("The table [checklist] has no name.", file_name);
        const auto line_end = std::min(text.find('\n', end_of_value(text, byte_of(text, name->at))), text.size());
        changed.insert(line_end, fmt::format("\n{} = {}", at.key, value));
    }
    // What was cut wrong, or a value that ends early, would reach into its neighbours.
    const auto found = differences(text, changed, file_name);
    if (!found) return tl::unexpected(found.error());
    const auto elsewhere = [&](const Difference& one) { return one.check != at.check || one.key != at.key; };
    if (std::any_of(found->begin(), found->end(), elsewhere))
        return not_there(fmt::format("“{}” is not one value.", value), file_name);
    return changed;
}

std::string_view lines_of_check(std::string_view text, std::string_view check) {
    // By its lines and not by its meaning: what is half written must be found again to be put right.
    std::size_t head = std::string_view::npos;
    bool is_it = false;
    const std::string names = fmt::format("id={}", quoted(check));
    for (std::size_t at = 0; at < text.size();) {
        const auto end = std::min(text.find('\n', at), text.size());
        const auto line = text.substr(at, end - at);
        if (line.starts_with("[") && !line.starts_with("[[check.") && !line.starts_with("[check.")) {
            if (is_it) return text.substr(head, at - head);
            head = line.starts_with("[[check]]") ? at : std::string_view::npos;
        }
        std::string bare;
        std::copy_if(line.begin(), line.end(), std::back_inserter(bare), [](char c) { return c != ' ' && c != '\t'; });
        is_it = is_it || (head != std::string_view::npos && bare.starts_with(names));
        at = end + 1;
    }
    return is_it ? text.substr(head) : std::string_view{};
}

}  // namespace wm::checklist
