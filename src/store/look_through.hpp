// All entries of a journal looked at once, without keeping them: for the check of the whole.
// For the sources of this room.
#pragma once

#include <memory>
#include <set>
#include <string>
#include <vector>

#include "problem/result.hpp"
#include "record/chain.hpp"
#include "store/sqlite_file.hpp"

namespace wm::store {

/// What a look at every entry left. A million entries take some 250 MB here, where the entries themselves would take ten
/// times that.
struct LookedThrough {
    std::vector<record::Link> links;     ///< of the sound entries, as they lie in the table
    std::vector<std::string> damaged;    ///< sentences, in the order of the table
    /// Entries that say who may write, open a job, or name words or files beside the journal.
    std::vector<record::Written> kept;

    std::set<std::string, std::less<>> devices;               ///< what `links` points into
    std::vector<std::unique_ptr<const std::string>> texts;  ///< likewise
};

/// Reads the table from start to end, recomputes every hash and reads every body, on all cores. A page that is torn ends it
/// with a sentence; any other trouble is a Problem.
[[nodiscard]] Result<LookedThrough> look_through(const Database& database);

}  // namespace wm::store
