#include "digest/document.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>

#include "digest/text.hpp"

namespace wm::digest {
namespace {

constexpr std::int64_t integer_end = std::int64_t{1} << 53;

template <class Object>
auto place_of(Object& members, std::string_view name) {
    return std::lower_bound(members.begin(), members.end(), name,
                            [](const Document::Member& m, std::string_view wanted) {
                                return stands_before(m.name, wanted);
                            });
}

bool is_special(char c) { return static_cast<unsigned char>(c) < 0x20 || c == '"' || c == '\\'; }

void print_special(std::string& out, char c) {
    constexpr std::string_view short_ones = "\"\\\b\f\n\r\t";
    constexpr std::string_view letters = "\"\\bfnrt";
    out += '\\';
    if (const auto at = short_ones.find(c); at != std::string_view::npos) {
        out += letters[at];
        return;
    }
    constexpr std::string_view digits = "0123456789abcdef";
    const auto byte = static_cast<unsigned char>(c);
    out += "u00";
    out += digits[byte >> 4U];
    out += digits[byte & 15U];
}

void print_text(std::string& out, std::string_view text) {
    out += '"';
    for (auto from = text.begin(); from != text.end();) {
        const auto special = std::find_if(from, text.end(), is_special);
        out.append(from, special);
        from = special;
        if (special != text.end()) print_special(out, *from++);
    }
    out += '"';
}

/// Prints, and keeps the first thing that may not be printed.
class Printer {
public:
    void print(const Document& document) {
        if (const auto* b = document.boolean()) {
            out += *b ? "true" : "false";
        } else if (const auto* n = document.integer()) {
            note(append_canonical(out, *n));
        } else if (const auto* t = document.text()) {
            note(append_canonical(out, *t));
        } else if (const auto* items = document.items()) {
            print_list('[', *items, ']', [&](const Document& item) { print(item); });
        } else if (const auto* members = document.members()) {
            print_list('{', *members, '}', [&](const Document::Member& member) {
                note(append_canonical(out, member.name));
                out += ':';
                print(member.value);
            });
        } else {
            out += "null";
        }
    }

    std::string out;
    std::string complaint;

private:
    template <class List, class Print>
    void print_list(char open, const List& list, char close, Print print_one) {
        out += open;
        for (std::size_t i = 0; i < list.size(); ++i) {
            if (i > 0) out += ',';
            print_one(list[i]);
        }
        out += close;
    }

    void note(std::string what) {
        if (!what.empty()) complaint = std::move(what);
    }
};

}  // namespace

/// RFC 8785 3.2.3 sorts by UTF-16 units. They order like UTF-8 bytes but for one case: a unit of
/// U+E000 to U+FFFF (first byte 0xEE or 0xEF) comes after a surrogate pair (first byte 0xF0…).
bool stands_before(std::string_view a, std::string_view b) {
    const auto [in_a, in_b] = std::mismatch(a.begin(), a.end(), b.begin(), b.end());
    if (in_b == b.end()) return false;
    if (in_a == a.end()) return true;
    const auto one = static_cast<unsigned char>(*in_a);
    const auto other = static_cast<unsigned char>(*in_b);
    const auto is_upper_plane = [](unsigned char c) { return c == 0xee || c == 0xef; };
    if (one >= 0xf0 && is_upper_plane(other)) return true;
    if (other >= 0xf0 && is_upper_plane(one)) return false;
    return one < other;
}

std::string append_canonical(std::string& to, std::string_view text) {
    print_text(to, text);
    if (!is_utf8(text)) return "a text that is not UTF-8";
    if (!is_composed(text)) return fmt::format("the text \"{}\", which writes a letter and its mark apart", text);
    return {};
}

std::string append_canonical(std::string& to, std::int64_t number) {
    const fmt::format_int digits{number};
    to.append(digits.data(), digits.size());
    return number >= integer_end || number <= -integer_end ? fmt::format("the number {}", number) : std::string{};
}

Problem not_written(std::string_view complaint) {
    return {.what = fmt::format("This cannot be written down: {}.", complaint),
            .where = "canonical text",
            .what_to_do = "Use whole numbers below 2^53 and composed UTF-8 text.",
            .kind = ProblemKind::Unreadable};
}

Document::Document(Object members) : value_{std::move(members)} {}

Document Document::object() {
    return Document{Object{}};
}

const Document* Document::find(std::string_view name) const {
    const auto* list = members();
    if (list == nullptr) return nullptr;
    // A handful is looked through sooner than halved.
    constexpr std::size_t few = 24;
    const auto place = list->size() <= few ? std::find_if(list->begin(), list->end(), [&](const Member& m) { return m.name == name; })
                                           : place_of(*list, name);
    return place != list->end() && place->name == name ? &place->value : nullptr;
}

Document& Document::set(std::string_view name, Document value) {
    assert(members() != nullptr && "only an object has members");
    auto& list = std::get<Object>(value_);
    const auto place = place_of(list, name);
    if (place != list.end() && place->name == name) {
        place->value = std::move(value);
    } else {
        list.insert(place, Member{std::string{name}, std::move(value)});
    }
    return *this;
}

Document& Document::add(Document value) {
    assert(items() != nullptr && "only an array has items");
    std::get<Array>(value_).push_back(std::move(value));
    return *this;
}

bool operator==(const Document& a, const Document& b) {
    return a.value_ == b.value_;
}

Result<std::string> canonical_text(const Document& document) {
    Printer printer;
    printer.print(document);
    if (!printer.complaint.empty()) return refused(not_written(printer.complaint));
    return std::move(printer.out);
}

}  // namespace wm::digest
