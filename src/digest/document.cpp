#include "digest/document.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>

#include "digest/text.hpp"

namespace wm::digest {
namespace {

constexpr std::int64_t integer_end = std::int64_t{1} << 53;

/// RFC 8785 3.2.3 sorts by UTF-16 units. They order like UTF-8 bytes but for one case: a unit of
/// U+E000 to U+FFFF (first byte 0xEE or 0xEF) comes after a surrogate pair (first byte 0xF0…).
bool is_before(std::string_view a, std::string_view b) {
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

template <class Object>
auto place_of(Object& members, std::string_view name) {
    return std::lower_bound(members.begin(), members.end(), name,
                            [](const Document::Member& m, std::string_view wanted) {
                                return is_before(m.name, wanted);
                            });
}

void print_text(std::string& out, std::string_view text) {
    out += '"';
    for (const char c : text) {
        switch (c) {
            case '"':
                out += "\\\"";
                break;
            case '\\':
                out += "\\\\";
                break;
            case '\b':
                out += "\\b";
                break;
            case '\f':
                out += "\\f";
                break;
            case '\n':
                out += "\\n";
                break;
            case '\r':
                out += "\\r";
                break;
            case '\t':
                out += "\\t";
                break;
            default:
                if (static_cast<unsigned char>(c) < 0x20) {
                    out += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
                } else {
                    out += c;
                }
        }
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
            if (*n >= integer_end || *n <= -integer_end)
                complaint = fmt::format("the number {}", *n);
            out += fmt::format("{}", *n);
        } else if (const auto* t = document.text()) {
            print_checked(*t);
        } else if (const auto* items = document.items()) {
            print_list('[', *items, ']', [&](const Document& item) { print(item); });
        } else if (const auto* members = document.members()) {
            print_list('{', *members, '}', [&](const Document::Member& member) {
                print_checked(member.name);
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

    void print_checked(std::string_view text) {
        if (!is_utf8(text)) {
            complaint = "a text that is not UTF-8";
        } else if (!is_composed(text)) {
            complaint =
                fmt::format("the text \"{}\", which writes a letter and its mark apart", text);
        }
        print_text(out, text);
    }
};

}  // namespace

Document Document::object() {
    Document document;
    document.value_ = Object{};
    return document;
}

const Document* Document::find(std::string_view name) const {
    const auto* list = members();
    if (list == nullptr) return nullptr;
    const auto place = place_of(*list, name);
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
    if (!printer.complaint.empty()) {
        return refused({.what = fmt::format("This cannot be written down: {}.", printer.complaint),
                        .where = "canonical text",
                        .what_to_do = "Use whole numbers below 2^53 and composed UTF-8 text.",
                        .kind = ProblemKind::Unreadable});
    }
    return std::move(printer.out);
}

}  // namespace wm::digest
