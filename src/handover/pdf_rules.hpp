// What the objects of a report may hold. A list of what is allowed, not of what is dangerous: a
// reader of tomorrow may learn to act on a key that means nothing today.
#pragma once

#include <string>
#include <vector>

class QPDF;

namespace wm::handover {

/// Why the objects of this file are not those of a report of ours, as sentences; empty if they are.
/// Looks at every object, reachable or not: the kinds and their keys, the one field of the seal and
/// its looks, the number of pages, links that lead out of the file, the filters of streams, and that letters copied from
/// the page are the letters shown. May throw what qpdf throws on a damaged file.
[[nodiscard]] std::vector<std::string> foreign_objects(QPDF& pdf);

/// The map from the codes of our fonts to letters, which every font of a report refers to. The
/// codes are the code units of UTF-16 themselves: each maps to itself.
[[nodiscard]] std::string letters_as_text();

/// What a file of this title says about itself for machines (XMP): title and language, no claim.
/// Source: ISO 16684-1:2012 (from memory).
[[nodiscard]] std::string description_of(const std::string& title);

}  // namespace wm::handover
