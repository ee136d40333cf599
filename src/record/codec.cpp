#include "record/codec.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <type_traits>

#include "digest/hash.hpp"
#include "record/clock.hpp"
#include "record/fields.hpp"

namespace wm::record {
namespace {

using digest::Document;

// --- words of our enumerations ------------------------------------------------------------------

template <class E>
struct Word {
    E value;
    std::string_view word;
};
constexpr std::array roles{Word{SignRole::Crew, "crew"}, Word{SignRole::Customer, "customer"}};
constexpr std::array handovers{Word{HandoverKind::Full, "full"},
                               Word{HandoverKind::Restricted, "restricted"}};
constexpr std::array message_states{
    Word{MessageState::Waiting, "waiting"}, Word{MessageState::Sent, "sent"},
    Word{MessageState::Refused, "refused"}, Word{MessageState::CannotSend, "cannot send"}};
constexpr std::array effect_verdicts{Word{EffectVerdict::Helped, "it helped"},
                                     Word{EffectVerdict::NoProof, "no proof yet"},
                                     Word{EffectVerdict::Worse, "it got worse"}};

constexpr const auto& words_for(SignRole) {
    return roles;
}
constexpr const auto& words_for(HandoverKind) {
    return handovers;
}
constexpr const auto& words_for(MessageState) {
    return message_states;
}
constexpr const auto& words_for(EffectVerdict) {
    return effect_verdicts;
}

template <class E>
concept OwnEnum = std::is_enum_v<E> && !std::same_as<E, measure::Outcome>;

template <class T>
inline constexpr bool is_vector = false;
template <class T>
inline constexpr bool is_vector<std::vector<T>> = true;
template <class T>
inline constexpr bool is_optional = false;
template <class T>
inline constexpr bool is_optional<std::optional<T>> = true;

/// An optional field without content is not written.
template <class T>
bool is_left_out(const T& value) {
    if constexpr (is_optional<T>) {
        return !value.has_value();
    } else if constexpr (std::same_as<T, bool>) {
        return !value;
    } else {
        return value.empty();
    }
}

// --- writing ------------------------------------------------------------------------------------

/// Writes the object of one struct as canonical text; keeps the first thing that must not be written.
class Writer {
public:
    std::string complaint;    ///< of ours, a sentence
    std::string unwritable;   ///< of the canonical form, as append_canonical() says it

    template <class T>
    void must(std::string_view name, const T& value) {
        const std::size_t from = values_.size();
        write(value);
        members_.push_back({name, from, values_.size() - from});
    }
    template <class T>
    void may(std::string_view name, const T& value) {
        if (!is_left_out(value)) must(name, value);
    }

    /// The members in their one order.
    void finish(std::string& to) {
        std::sort(members_.begin(), members_.end(), [](const Member& a, const Member& b) { return digest::stands_before(a.name, b.name); });
        to += '{';
        for (const Member& member : members_) {
            if (&member != &members_.front()) to += ',';
            note(digest::append_canonical(to, member.name));
            to += ':';
            to.append(values_, member.from, member.size);
        }
        to += '}';
    }

private:
    struct Member {
        std::string_view name;
        std::size_t from = 0, size = 0;  ///< of its value among `values_`
    };

    void note(std::string what) {
        if (!what.empty()) unwritable = std::move(what);
    }
    void write_text(std::string_view text) { note(digest::append_canonical(values_, text)); }

    template <class T>
    void write(const T& value) {
        if constexpr (std::same_as<T, std::string> || std::same_as<T, std::int64_t>) {
            note(digest::append_canonical(values_, value));
        } else if constexpr (std::same_as<T, bool>) {
            values_ += value ? "true" : "false";
        } else if constexpr (std::same_as<T, measure::Outcome>) {
            write_text(measure::in_words(value));
        } else if constexpr (OwnEnum<T>) {
            const auto& words = words_for(value);
            const auto named = std::find_if(words.begin(), words.end(), [&](const auto& word) { return word.value == value; });
            if (named == words.end()) values_ += "null";
            else write_text(named->word);
        } else if constexpr (std::same_as<T, Personal>) {
            if (!digest::is_sha256_hex(value.commitment)) complaint = "Words of a person have no commitment yet.";
            values_ += R"({"commitment":)";
            write_text(value.commitment);
            values_ += '}';
        } else if constexpr (std::same_as<T, Words>) {
            std::visit([this](const auto& words) { write(words); }, value);
        } else if constexpr (is_optional<T>) {
            write(*value);
        } else if constexpr (is_vector<T>) {
            values_ += '[';
            for (std::size_t i = 0; i < value.size(); ++i) {
                if (i > 0) values_ += ',';
                write(value[i]);
            }
            values_ += ']';
        } else {
            Writer inner;
            list_fields(inner, value);
            inner.finish(values_);
            if (complaint.empty()) complaint = inner.complaint;
            note(inner.unwritable);
        }
    }

    std::string values_;
    std::vector<Member> members_;
};

// --- reading ------------------------------------------------------------------------------------

/// Fills one struct from its object. `unknown` is set when the object holds more than the struct.
class Filler {
public:
    explicit Filler(const Document& object) : object_{object} {}

    std::string complaint;
    bool unknown = false;

    template <class T>
    void must(std::string_view name, T& value) {
        const Document* member = object_.find(name);
        if (member == nullptr) {
            complain(fmt::format("The field \"{}\" is missing.", name));
        } else {
            take(name, *member, value);
        }
    }
    template <class T>
    void may(std::string_view name, T& value) {
        const Document* member = object_.find(name);
        if (member == nullptr) return;
        take(name, *member, value);
        // An empty field would be a second way to write one that is left out.
        if (is_left_out(value)) complain(fmt::format("The field \"{}\" is empty.", name));
    }
    void finish(std::size_t further_members) {
        if (object_.members() == nullptr || used_ + further_members != object_.members()->size()) {
            unknown = true;
        }
    }

private:
    void complain(std::string what) {
        if (complaint.empty()) complaint = std::move(what);
    }

    template <class T>
    void take(std::string_view name, const Document& member, T& value) {
        ++used_;
        if (!fill(member, value)) complain(fmt::format("The field \"{}\" is of another kind.", name));
    }

    template <class T>
    bool fill(const Document& from, T& value) {
        if constexpr (std::same_as<T, std::string>) {
            return from.text() != nullptr && (value = *from.text(), true);
        } else if constexpr (std::same_as<T, bool>) {
            return from.boolean() != nullptr && (value = *from.boolean(), true);
        } else if constexpr (std::same_as<T, std::int64_t>) {
            return from.integer() != nullptr && (value = *from.integer(), true);
        } else if constexpr (std::same_as<T, measure::Outcome>) {
            const auto named =
                from.text() == nullptr ? std::nullopt : measure::outcome_named(*from.text());
            return named && (value = *named, true);
        } else if constexpr (OwnEnum<T>) {
            for (const auto& word : words_for(value)) {
                if (from.text() != nullptr && *from.text() == word.word)
                    return value = word.value, true;
            }
            return false;
        } else if constexpr (std::same_as<T, Personal>) {
            return fill_commitment(from, value);
        } else if constexpr (std::same_as<T, Words>) {
            if (from.text() != nullptr) return value = *from.text(), true;
            return fill_commitment(from, value.template emplace<Personal>());
        } else if constexpr (is_optional<T>) {
            return fill(from, value.emplace());
        } else if constexpr (is_vector<T>) {
            if (from.items() == nullptr) return false;
            for (const Document& item : *from.items()) {
                if (!fill(item, value.emplace_back())) return false;
            }
            return true;
        } else {
            if (from.members() == nullptr) return false;
            Filler inner{from};
            list_fields(inner, value);
            inner.finish(0);
            unknown = unknown || inner.unknown;
            if (!inner.complaint.empty()) complain(std::move(inner.complaint));
            return true;
        }
    }

    bool fill_commitment(const Document& from, Personal& value) {
        const Document::Object* members = from.members();
        const Document* commitment = from.find("commitment");
        const std::string* text = commitment == nullptr ? nullptr : commitment->text();
        if (members == nullptr || text == nullptr || !digest::is_sha256_hex(*text)) return false;
        if (members->size() != 1) unknown = true;
        value.commitment = *text;
        return true;
    }

    const Document& object_;
    std::size_t used_ = 0;
};

// --- searching ----------------------------------------------------------------------------------

/// Walks the fields and keeps the address of every `Wanted`.
template <class Wanted>
class Finder {
public:
    std::vector<Wanted*> found;

    template <class T>
    void must(std::string_view, T& value) {
        look(value);
    }
    template <class T>
    void may(std::string_view, T& value) {
        look(value);
    }

private:
    template <class T>
    void look(T& value) {
        using Plain = std::remove_const_t<T>;
        if constexpr (std::same_as<T, Wanted>) found.push_back(&value);
        if constexpr (std::same_as<Plain, Words>) {
            if (auto* personal = std::get_if<Personal>(&value)) look(*personal);
        } else if constexpr (is_optional<Plain>) {
            if (value) look(*value);
        } else if constexpr (is_vector<Plain>) {
            for (auto& item : value) look(item);
        } else if constexpr (std::is_class_v<Plain> && !std::same_as<Plain, std::string> &&
                             !std::same_as<Plain, Personal>) {
            list_fields(*this, value);
        }
    }
};

tl::unexpected<Problem> not_an_entry(std::string what, std::string_view where) {
    return refused({.what = std::move(what),
                    .where = std::string{where},
                    .what_to_do = "The entry was damaged or made by another program. Take it from "
                                  "another device or a copy.",
                    .kind = ProblemKind::Unreadable});
}

template <class E>
Result<Body> body_of(const Document& document, std::string_view where) {
    E value;
    Filler filler{document};
    list_fields(filler, value);
    filler.finish(1);
    if (!filler.complaint.empty()) return not_an_entry(std::move(filler.complaint), where);
    if (filler.unknown) {
        auto text = digest::canonical_text(document);
        if (!text) return refused(text.error());
        return Body{Unknown{std::string{kind_word<E>}, std::move(*text)}};
    }
    return Body{std::move(value)};
}

template <std::size_t I = 0>
Result<Body> body_named(std::string_view kind, const Document& document, std::string_view where) {
    using E = std::variant_alternative_t<I, Body>;
    if constexpr (std::same_as<E, Unknown>) {
        auto text = digest::canonical_text(document);
        if (!text) return refused(text.error());
        return Body{Unknown{std::string{kind}, std::move(*text)}};
    } else {
        if (kind == kind_word<E>) return body_of<E>(document, where);
        return body_named<I + 1>(kind, document, where);
    }
}

Result<Body> body_from(const Document& document, std::string_view where) {
    const Document* kind = document.find("kind");
    if (kind == nullptr || kind->text() == nullptr) {
        return not_an_entry("The entry does not say of which kind it is.", where);
    }
    return body_named(*kind->text(), document, where);
}

}  // namespace

std::string_view in_words(EffectVerdict verdict) {
    for (const auto& word : effect_verdicts)
        if (word.value == verdict) return word.word;
    return "no proof yet";
}

std::string kind_of(const Body& body) {
    return std::visit(
        []<class E>(const E& e) -> std::string {
            if constexpr (std::same_as<E, Unknown>) {
                return e.kind;
            } else {
                return std::string{kind_word<E>};
            }
        },
        body);
}

Result<std::string> body_text(const Body& body) {
    if (const auto* unknown = std::get_if<Unknown>(&body)) return unknown->body;
    Writer writer;
    writer.must("kind", kind_of(body));
    std::visit(
        [&]<class E>(const E& e) {
            if constexpr (!std::same_as<E, Unknown>) list_fields(writer, e);
        },
        body);
    if (!writer.complaint.empty()) return not_an_entry(std::move(writer.complaint), "new entry");
    std::string text;
    writer.finish(text);
    if (!writer.unwritable.empty()) return refused(digest::not_written(writer.unwritable));
    return text;
}

Result<Body> read_body(std::string_view text, std::string_view where) {
    const auto document = digest::read_canonical(text, where);
    if (!document) return refused(document.error());
    return body_from(*document, where);
}

Result<std::string> line_with_body(const Entry& entry, std::string_view body) {
    std::string line;
    line.reserve(body.size() + 320);
    std::string complaint;
    const auto member = [&](std::string_view name, const auto& value) {
        line += name;
        if (auto what = digest::append_canonical(line, value); !what.empty() && complaint.empty()) complaint = std::move(what);
    };
    line += R"({"body":)";
    line += body;
    member(R"(,"device":)", entry.device);
    member(R"(,"job":)", entry.job);
    member(R"(,"prev":)", entry.prev);
    // A number that is too large is told where it is read.
    line += R"(,"seq":)";
    static_cast<void>(digest::append_canonical(line, entry.seq));
    member(R"(,"time":)", entry.time);
    line += '}';
    if (!complaint.empty()) return refused(digest::not_written(complaint));
    return line;
}

Result<std::string> line_of(const Entry& entry) {
    const auto body = body_text(entry.body);
    if (!body) return body;
    return line_with_body(entry, *body);
}

Result<Written> read_line(std::string_view line, std::string_view where) {
    const auto document = digest::read_canonical(line, where);
    if (!document) return refused(document.error());
    Written written;
    Filler filler{*document};
    filler.must("device", written.entry.device);
    filler.must("job", written.entry.job);
    filler.must("prev", written.entry.prev);
    filler.must("seq", written.entry.seq);
    filler.must("time", written.entry.time);
    filler.finish(1);
    const Document* body = document->find("body");
    if (!filler.complaint.empty()) return not_an_entry(std::move(filler.complaint), where);
    if (filler.unknown || body == nullptr || written.entry.seq < 1 ||
        !digest::is_sha256_hex(written.entry.prev) || !stamp_of(written.entry.time)) {
        return not_an_entry("The line is no journal entry.", where);
    }
    auto read = body_from(*body, where);
    if (!read) return refused(read.error());
    written.entry.body = std::move(*read);
    written.hash = digest::sha256_hex(line);
    return written;
}

std::vector<Personal*> personal_in(Body& body) {
    Finder<Personal> finder;
    std::visit(
        [&]<class E>(E& e) {
            if constexpr (!std::same_as<E, Unknown>) list_fields(finder, e);
        },
        body);
    return finder.found;
}

std::vector<const Attached*> attached_in(const Body& body) {
    Finder<const Attached> finder;
    std::visit(
        [&]<class E>(const E& e) {
            if constexpr (!std::same_as<E, Unknown>) list_fields(finder, e);
        },
        body);
    return finder.found;
}

}  // namespace wm::record
