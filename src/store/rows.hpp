// Rows of the entries table, whichever database keeps it: checked when read, joined when taken in, their words filled in.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "problem/result.hpp"
#include "record/chain.hpp"
#include "store/journal.hpp"

namespace wm::store {

/// The entry of a row, its hash recomputed from the stored text; else what is wrong with it, the device and its number
/// in `where`.
[[nodiscard]] Result<record::Written> checked_row(record::Entry without_body, std::string hash, std::string_view body);

/// Hashes, signatures and names of what a bundle brings, before anything is looked up. Kind Refused, where = "bundle".
[[nodiscard]] Result<void> check_content(const Foreign& foreign);

/// What is kept already.
struct KnownEntries {
    /// Time of that very entry; nothing where it is not kept.
    std::function<Result<std::optional<std::string>>(const record::Head& entry)> time_of;
    /// The highest number of the device below `seq`; 0 without any. For the message alone.
    std::function<Result<std::int64_t>(const std::string& device, std::int64_t seq)> last_before;
};

struct Joined {
    std::vector<record::Written> fresh;  ///< by device and number
    std::size_t known = 0;
};
/// What of these entries is new. Each new one must continue one that is kept or another of them, or be the start of its
/// device; else kind Refused, the missing stretch named, where = "bundle".
[[nodiscard]] Result<Joined> joined(std::vector<record::Written> entries, const KnownEntries& known);

/// `missing` and `altered` get a sentence for words that are nowhere, and for words that their key does not open. Words
/// without a key are neither.
struct WordDoubts {
    std::vector<std::string> missing, altered;
};
using FindWords = std::function<Result<std::optional<LockedWords>>(const std::string& commitment)>;
/// Unlocks what the keys open.
[[nodiscard]] Result<void> fill_in_words(std::vector<record::Written>& entries, const FindWords& find, const Keys& keys,
                                         WordDoubts* doubts = nullptr);

}  // namespace wm::store
