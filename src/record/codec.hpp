// Entries to canonical lines and back: the bytes that are hashed, stored and sent.
//
// A line is one canonical document (digest/document.hpp) without a newline:
//   {"body":{"kind":"undone",…},"device":"…","job":"…","prev":"…","seq":7,"time":"…"}
// and the hash of the entry is the SHA-256 of exactly these bytes. An optional field that is empty
// is left out. Kinds are never renamed and never change their meaning: a new meaning is a new
// kind. A kind, or a field, that this version does not know makes the entry Unknown; it keeps
// its bytes, its place in the chain and its hash.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "digest/document.hpp"
#include "problem/result.hpp"
#include "record/entry.hpp"

namespace wm::record {

/// "reading", "correction", …: the word that stands in the body.
[[nodiscard]] std::string kind_of(const Body& body);

/// "it helped", "no proof yet", "it got worse".
[[nodiscard]] std::string_view in_words(EffectVerdict verdict);

/// Canonical text of the body. Problem for text that is not composed UTF-8.
[[nodiscard]] Result<std::string> body_text(const Body& body);

/// The body of that text. `where` names the entry for the message.
[[nodiscard]] Result<Body> read_body(std::string_view text, std::string_view where);

/// The canonical line of an entry, with no newline.
[[nodiscard]] Result<std::string> line_of(const Entry& entry);

/// The line of an entry whose body text is at hand, so that a stored entry is hashed as stored.
[[nodiscard]] Result<std::string> line_with_body(const Entry& entry, std::string_view body);

/// The entry of a line, and its hash.
[[nodiscard]] Result<Written> read_line(std::string_view line, std::string_view where);

/// Every Personal in the entry, in the order of its fields: to fill in the words, or to see which
/// commitments an entry names.
[[nodiscard]] std::vector<Personal*> personal_in(Body& body);
/// Every attachment the entry names.
[[nodiscard]] std::vector<const Attached*> attached_in(const Body& body);

}  // namespace wm::record
