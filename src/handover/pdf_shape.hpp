// The one shape our files have: a single revision with an empty place for exactly one seal.
//
// The page library writes, one pass of qpdf rewrites: classic cross-reference table, no object
// streams, an ID that follows from the content, letters that can be copied as text, one signature
// field whose value has a place of fixed size. Sealing only overwrites that place. Because the
// pass is deterministic, rewriting a file of ours gives the same bytes again; a file with anything
// added, hidden or left over does not survive that comparison.
// Refused alternatives: an incremental update (readers accept bytes after it), a visible signature
// (it would cover page one).
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "handover/pdf_book.hpp"
#include "problem/result.hpp"

namespace wm::handover {

/// Bytes kept free for the signature in DER.
inline constexpr std::size_t seal_room = 32 * 1024;

/// What the file says about itself beside its pages. All of it is covered by the seal.
struct SealPlace {
    std::string job;
    std::string head;    ///< of the record, hexadecimal
    std::string issuer;  ///< company
    Moment written;
    std::string language = "en";  ///< of whatever part names no other
};

/// Rewrites what the page library wrote and adds the empty place.
[[nodiscard]] Result<std::string> with_empty_seal(std::string_view drawn, const SealPlace& place);

/// The same file with its tags and fonts in order and no place for a seal: a paper that proves nothing.
[[nodiscard]] Result<std::string> without_seal(std::string_view drawn, const SealPlace& place);

/// An unsealed report with the pages of `sheet` behind its own, to be sealed anew. `first` is the
/// SHA-256 of the report it stands for.
[[nodiscard]] Result<std::string> with_sheet(std::string_view unsealed_file, std::string_view sheet,
                                             const SealPlace& place, const std::string& first);

/// Where the seal sits: offsets of '<' and of the byte behind '>'; everything else is covered.
struct SealSlot {
    std::size_t from = 0;
    std::size_t to = 0;
};

/// The slot of a file of ours, sealed or not; nullopt unless there is exactly one of our size.
[[nodiscard]] std::optional<SealSlot> seal_slot(std::string_view file);

/// The file with the four numbers of its byte range written for this slot.
[[nodiscard]] std::string with_byte_range(std::string file, SealSlot slot);

/// The file as it was before it was sealed: zeros in the slot, placeholders in the byte range.
/// nullopt if the byte range is not the one with_byte_range writes.
[[nodiscard]] std::optional<std::string> unsealed(std::string file, SealSlot slot);

/// What a file of ours holds that no page shows.
struct ShapeReading {
    std::vector<std::string> reasons;  ///< why it is not our shape; empty if it is
    std::string job, head, issuer;
    std::string signed_at;   ///< RFC 3339
    std::string reissue_of;  ///< SHA-256 of the report it stands for; empty for a first report
};

/// Reads an unsealed file and compares it with its own rewriting. Total: never throws.
[[nodiscard]] ShapeReading read_shape(const std::string& unsealed_file);

}  // namespace wm::handover
