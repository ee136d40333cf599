// What left this device in a bundle, and what would be lost with it today.
//
// exchanged.json of the data folder, canonical: when the last bundle was made, and the heads it held.
// It only helps to count and may be missing.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "problem/result.hpp"
#include "record/chain.hpp"
#include "store/journal.hpp"

namespace wm::exchange {

/// Remembers that a bundle with everything up to these heads was made at that time.
[[nodiscard]] Result<void> note_packed(const store::Journal& journal, const std::vector<record::Head>& heads,
                                       const std::string& at);

struct NotExchanged {
    std::size_t entries = 0;           ///< of this device that are in no bundle yet
    std::string since;                 ///< stamp of the first of them; empty without any
    std::vector<std::string> jobs;     ///< they belong to, sorted
    std::string last_bundle;           ///< when it was made, as noted; empty = never
    std::size_t not_confirmed = 0;     ///< of this device that no other device is known to have
};

/// Confirmed is what a bundle of another device says that it had received.
[[nodiscard]] Result<NotExchanged> not_exchanged(const store::Journal& journal);

}  // namespace wm::exchange
