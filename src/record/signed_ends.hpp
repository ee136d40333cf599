// Which ends of chains their devices signed, and which somebody else may have written.
#pragma once

#include <span>
#include <vector>

#include "record/chain.hpp"

namespace wm::record {

/// The last entries of their branches among `entries` for which no genuine head of `heads` stands: whoever wrote them had
/// not the key of the device. A head signs all that its entry continues.
[[nodiscard]] std::vector<Head> signed_by_nobody(std::span<const Written> entries, std::span<const SignedHead> heads);

}  // namespace wm::record
