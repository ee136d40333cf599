// Reading JSON of integers and text; the rest of document.hpp.
#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>

#include "digest/document.hpp"
#include "digest/text.hpp"

namespace wm::digest {
namespace {

constexpr int deepest_level = 64;

/// Canonical: whatever is spelt otherwise than canonical_text() spells it is a complaint too.
enum class Spelling { Any, Canonical };

/// Reads one document from left to right. After the first complaint nothing more is read.
template <Spelling spelling>
class Reader {
public:
    explicit Reader(std::string_view text) : text_{text} {}

    std::optional<Document> whole() {
        auto document = value(0);
        skip_space();
        if (document && at_ != text_.size()) complain("more text after the end of the document");
        return complaint_.empty() ? std::move(document) : std::nullopt;
    }

    [[nodiscard]] const std::string& complaint() const { return complaint_; }
    [[nodiscard]] std::size_t offset() const { return at_; }

private:
    std::optional<Document> complain(std::string what) {
        if (complaint_.empty()) complaint_ = std::move(what);
        return std::nullopt;
    }

    void skip_space() {
        if constexpr (spelling == Spelling::Canonical) return;
        while (at_ < text_.size() && (text_[at_] == ' ' || text_[at_] == '\n' ||
                                      text_[at_] == '\t' || text_[at_] == '\r')) {
            ++at_;
        }
    }

    bool takes(std::string_view word) {
        if (text_.substr(at_, word.size()) != word) return false;
        at_ += word.size();
        return true;
    }

    std::optional<Document> value(int level) {
        if (level > deepest_level) return complain("more than 64 levels");
        skip_space();
        if (at_ >= text_.size()) return complain("the end where a value was expected");
        const char c = text_[at_];
        if (c == '{') return object(level);
        if (c == '[') return array(level);
        if (c == '"') {
            auto read = text_value();
            return read ? std::optional{Document{std::move(*read)}} : std::nullopt;
        }
        if (takes("null")) return Document{};
        if (takes("true")) return Document{true};
        if (takes("false")) return Document{false};
        return number();
    }

    std::optional<Document> number() {
        std::int64_t value = 0;
        const char* begin = text_.data() + at_;
        const char* end = text_.data() + text_.size();
        const auto [stop, error] = std::from_chars(begin, end, value);
        if (error != std::errc{}) return complain("neither a value nor a whole number");
        const char* digits = *begin == '-' ? begin + 1 : begin;
        if (*digits == '0' && (stop - digits > 1 || digits != begin)) {
            return complain("a number with a zero before it");
        }
        if (stop != end && (*stop == '.' || *stop == 'e' || *stop == 'E')) {
            return complain("a number that is not whole");
        }
        if (value >= (std::int64_t{1} << 53) || value <= -(std::int64_t{1} << 53)) {
            return complain("a number of 2^53 or more");
        }
        at_ += static_cast<std::size_t>(stop - begin);
        return Document{value};
    }

    std::optional<Document> array(int level) {
        Document list = Document::array();
        ++at_;
        skip_space();
        if (takes("]")) return list;
        while (true) {
            auto item = value(level + 1);
            if (!item) return std::nullopt;
            list.add(std::move(*item));
            skip_space();
            if (takes("]")) return list;
            if (!takes(",")) return complain("no comma between two items");
        }
    }

    std::optional<Document> object(int level) {
        Document::Object members;
        ++at_;
        skip_space();
        if (takes("}")) return Document{std::move(members)};
        while (true) {
            skip_space();
            if (at_ >= text_.size() || text_[at_] != '"') return complain("no name of a member");
            auto name = text_value();
            if (!name) return std::nullopt;
            skip_space();
            if (!takes(":")) return complain("no colon after a name");
            if (!is_in_place(members, *name)) return complain("a member named twice");
            auto member = value(level + 1);
            if (!member) return std::nullopt;
            put(members, std::move(*name), std::move(*member));
            skip_space();
            if (takes("}")) return Document{std::move(members)};
            if (!takes(",")) return complain("no comma between two members");
        }
    }

    // Mostly each name stands after all before it: then it is new, and its place is the end.
    static bool goes_on(const Document::Object& members, const std::string& name) {
        return members.empty() || stands_before(members.back().name, name);
    }

    static auto place_of(Document::Object& members, const std::string& name) {
        return std::lower_bound(members.begin(), members.end(), name,
                                [](const Document::Member& m, const std::string& wanted) { return stands_before(m.name, wanted); });
    }

    static bool is_in_place(Document::Object& members, const std::string& name) {
        if (goes_on(members, name)) return true;
        if constexpr (spelling == Spelling::Canonical) return false;
        const auto place = place_of(members, name);
        return place == members.end() || place->name != name;
    }

    static void put(Document::Object& members, std::string name, Document value) {
        const auto place = goes_on(members, name) ? members.end() : place_of(members, name);
        members.insert(place, Document::Member{std::move(name), std::move(value)});
    }

    std::optional<std::string> text_value() {
        ++at_;
        std::string out;
        while (true) {
            const auto plain = text_.substr(at_);
            const auto stop = std::find_if(plain.begin(), plain.end(), [](char c) {
                return c == '"' || c == '\\' || static_cast<unsigned char>(c) < 0x20;
            });
            out.append(plain.begin(), stop);
            at_ += static_cast<std::size_t>(stop - plain.begin());
            if (stop == plain.end()) return no_text("a text without an end");
            if (*stop == '"') break;
            if (*stop != '\\') return no_text("a control character in a text");
            if (!escape(out)) return std::nullopt;
        }
        ++at_;
        if (!is_utf8(out)) return no_text("a text that is not UTF-8");
        if (spelling == Spelling::Canonical && !is_composed(out)) return no_text("a text that is not composed");
        return out;
    }

    std::optional<std::string> no_text(std::string what) {
        complain(std::move(what));
        return std::nullopt;
    }

    bool escape(std::string& out) {
        const std::size_t from = at_, size_before = out.size();
        if (!unescape(out)) return false;
        if constexpr (spelling == Spelling::Any) return true;
        // Spelt again: the surest way to know whether this is the one spelling.
        std::string again;
        static_cast<void>(append_canonical(again, std::string_view{out}.substr(size_before)));
        if (std::string_view{again}.substr(1, again.size() - 2) == text_.substr(from, at_ - from)) return true;
        complain("an escape that is not the shortest");
        return false;
    }

    bool unescape(std::string& out) {
        constexpr std::string_view letters = "\"\\/bfnrt";
        constexpr std::string_view meanings = "\"\\/\b\f\n\r\t";
        const char letter = at_ + 1 < text_.size() ? text_[at_ + 1] : '\0';
        at_ += 2;
        if (const auto known = letters.find(letter);
            known != std::string_view::npos && letter != '\0') {
            out += meanings[known];
            return true;
        }
        if (letter != 'u') {
            complain("an escape that is not known");
            return false;
        }
        return unicode_escape(out);
    }

    std::optional<unsigned> four_digits() {
        unsigned unit = 0;
        const std::string_view digits = text_.substr(std::min(at_, text_.size()), 4);
        const auto [stop, error] =
            std::from_chars(digits.data(), digits.data() + digits.size(), unit, 16);
        if (error != std::errc{} || digits.size() != 4 || stop != digits.data() + 4)
            return std::nullopt;
        at_ += 4;
        return unit;
    }

    bool unicode_escape(std::string& out) {
        const auto first = four_digits();
        char32_t point = first.value_or(0);
        if (first && *first >= 0xd800 && *first < 0xdc00 && takes("\\u")) {
            const auto second = four_digits();
            if (second && *second >= 0xdc00 && *second < 0xe000) {
                point = 0x10000 + ((*first - 0xd800) << 10) + (*second - 0xdc00);
            }
        }
        if (!first || (point >= 0xd800 && point < 0xe000)) {
            complain("an escape that is no character");
            return false;
        }
        append_utf8(out, point);
        return true;
    }

    std::string_view text_;
    std::size_t at_ = 0;
    std::string complaint_;
};

}  // namespace

Result<Document> read_document(std::string_view text, std::string_view where) {
    Reader<Spelling::Any> reader{text};
    auto document = reader.whole();
    if (!document) {
        return refused({.what = fmt::format("The text holds {} (byte {}).", reader.complaint(),
                                            reader.offset()),
                        .where = std::string{where},
                        .what_to_do = "Take the text from its source again; it was cut or changed.",
                        .kind = ProblemKind::Unreadable});
    }
    return std::move(*document);
}

Result<Document> read_canonical(std::string_view text, std::string_view where) {
    if (auto canonical = Reader<Spelling::Canonical>{text}.whole()) return std::move(*canonical);
    // What is wrong with it is told by reading it as any text and spelling it again.
    auto document = read_document(text, where);
    if (!document) return document;
    const auto again = canonical_text(*document);
    if (!again) return refused(again.error());
    if (*again != text) {
        return refused({.what = "The text is not written in its one canonical form.",
                        .where = std::string{where},
                        .what_to_do = "Take the text from its source again; it was written by "
                                      "another tool or changed.",
                        .kind = ProblemKind::Unreadable});
    }
    return document;
}

}  // namespace wm::digest
