// Keys out of a backup into a data folder that has none. For the sources of this room.
#pragma once

#include <filesystem>
#include <string>

#include "problem/result.hpp"
#include "store/disk.hpp"

namespace wm::store {

/// Sealed ones as they are, locked ones with the passphrase, else the master key alone. Refused
/// without a passphrase where only that would open anything.
[[nodiscard]] Result<void> keys_from_backup(const std::filesystem::path& backups,
                                            const std::filesystem::path& folder,
                                            const std::string& passphrase, Disk& disk);

}  // namespace wm::store
