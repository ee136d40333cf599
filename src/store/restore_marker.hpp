// restore.json of a data folder: a restore that was begun, or is in place and not yet gone on from.
// For the sources of this room.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "problem/result.hpp"
#include "store/disk.hpp"

namespace wm::store {

/// Begun: what lies under journal.db is neither the old nor the new one, and nothing opens it.
/// Placed: the copy is in place; who writes next does so as a new device.
enum class RestoreStep { Begun, Placed };

struct RestoreMarker {
    RestoreStep step = RestoreStep::Begun;
    std::string predecessor;          ///< device that wrote the copy
    std::vector<std::string> erased;  ///< customers that were erased after the copy was made
    std::string aside;                ///< folder below set-aside/ that took the former journal
};

/// nullopt without the file.
[[nodiscard]] Result<std::optional<RestoreMarker>> read_restore_marker(const std::filesystem::path& folder,
                                                                       Disk& disk);
[[nodiscard]] Result<void> write_restore_marker(const std::filesystem::path& folder,
                                                const RestoreMarker& marker, Disk& disk);
[[nodiscard]] Result<void> remove_restore_marker(const std::filesystem::path& folder, Disk& disk);
/// Problem while a restore is half done.
[[nodiscard]] Result<void> not_half_restored(const std::optional<RestoreMarker>& marker,
                                             const std::filesystem::path& folder);

}  // namespace wm::store
