// The value behind every byte we hash: JSON of integers and text, with one canonical spelling.
//
// Canonical text follows RFC 8785: members sorted by the UTF-16 units of their names, no space,
// the shortest escapes. Two limits of our own make it exact everywhere: a number is an integer
// with a magnitude below 2^53, and text is UTF-8 in composed form (NFC), because two spellings of
// one "é" would be two hashes of one name. Example: {"body":{"kind":"note"},"seq":7}
#pragma once

#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "problem/result.hpp"

namespace wm::digest {

class Document {
public:
    struct Member;
    using Array = std::vector<Document>;
    using Object = std::vector<Member>;  ///< kept sorted, names once

    Document() = default;  ///< null
    Document(const Document& other);
    Document(Document&&) noexcept = default;
    Document& operator=(const Document& other);
    Document& operator=(Document&&) noexcept = default;
    ~Document() = default;
    explicit Document(bool value) : value_{value} {}
    explicit Document(std::int64_t value) : value_{value} {}
    explicit Document(std::string text) : value_{std::move(text)} {}
    explicit Document(std::string_view text) : value_{std::string{text}} {}
    explicit Document(const char* text) : value_{std::string{text}} {}
    explicit Document(Array items) : value_{std::move(items)} {}
    /// The members must stand in their order, each name once.
    explicit Document(Object members);
    [[nodiscard]] static Document array() { return Document{Array{}}; }
    [[nodiscard]] static Document object();

    [[nodiscard]] bool is_null() const { return std::holds_alternative<std::monostate>(value_); }
    [[nodiscard]] const bool* boolean() const { return std::get_if<bool>(&value_); }
    [[nodiscard]] const std::int64_t* integer() const { return std::get_if<std::int64_t>(&value_); }
    [[nodiscard]] const std::string* text() const { return std::get_if<std::string>(&value_); }
    [[nodiscard]] const Array* items() const { return std::get_if<Array>(&value_); }
    [[nodiscard]] const Object* members() const { return std::get_if<Object>(&value_); }

    /// The member of that name; nullptr when this is no object or has none.
    [[nodiscard]] const Document* find(std::string_view name) const;

    /// Adds or replaces a member. This must be an object.
    Document& set(std::string_view name, Document value);
    /// Appends an item. This must be an array.
    Document& add(Document value);

    friend bool operator==(const Document&, const Document&);

private:
    std::variant<std::monostate, bool, std::int64_t, std::string, Array, Object> value_;
};

struct Document::Member {
    std::string name;
    Document value;
    friend bool operator==(const Member&, const Member&) = default;
};

// Not left to the variant: where memory ends in the middle of it, the copy that libstdc++ 12 makes of one that holds itself,
// compiled with optimisation, destroys what was never built.
inline Document::Document(const Document& other) {
    std::visit([this](const auto& value) { value_.emplace<std::decay_t<decltype(value)>>(value); }, other.value_);
}

inline Document& Document::operator=(const Document& other) {
    Document copy{other};
    value_.swap(copy.value_);
    return *this;
}

/// Appends a text as canonical text spells it. Gives what must not be written, in words: "a text that is
/// not UTF-8"; empty if nothing.
[[nodiscard]] std::string append_canonical(std::string& to, std::string_view text);
/// Likewise an integer.
[[nodiscard]] std::string append_canonical(std::string& to, std::int64_t number);
/// What canonical_text() tells of such words.
[[nodiscard]] Problem not_written(std::string_view complaint);
/// The order of members.
[[nodiscard]] bool stands_before(std::string_view name, std::string_view other);

/// The one canonical text. Problem for text that is not UTF-8 or not composed, and for an integer
/// of 2^53 or more.
[[nodiscard]] Result<std::string> canonical_text(const Document& document);

/// Reads canonical text and nothing else: one more space, another order or another escape is
/// refused. At most 64 levels deep. `where` names the source for the message.
[[nodiscard]] Result<Document> read_canonical(std::string_view text, std::string_view where);

/// Reads any JSON made of integers and text: spaces, any order, any escapes. A member named twice
/// is refused.
[[nodiscard]] Result<Document> read_document(std::string_view text, std::string_view where);

}  // namespace wm::digest
