// Files that are whole or not there: written beside, synced, renamed, the folder synced.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "problem/result.hpp"
#include "store/disk.hpp"

namespace wm::store {

/// All bytes of a file. Problem when it is missing or cannot be read.
[[nodiscard]] Result<std::string> read_file(const std::filesystem::path& path,
                                            Disk& disk = system_disk());

/// Replaces the file by one with these bytes, mode 0600. On return it survives a loss of power; a
/// crash in between leaves the old file or the new one, never a part. Folders above are made, 0700.
[[nodiscard]] Result<void> write_file(const std::filesystem::path& path, std::string_view bytes,
                                      Disk& disk = system_disk());

/// Removes the file and syncs its folder. A missing file is fine.
[[nodiscard]] Result<void> remove_file(const std::filesystem::path& path,
                                       Disk& disk = system_disk());

/// Makes the folder and those above it with mode 0700.
[[nodiscard]] Result<void> make_folder(const std::filesystem::path& folder,
                                       Disk& disk = system_disk());

/// What stands there; nullopt when nothing does. A disk that cannot tell is a Problem and not an
/// absence: a key that is taken for missing would be made anew.
[[nodiscard]] Result<std::optional<Look>> look_at_file(const std::filesystem::path& path,
                                                       Disk& disk = system_disk());

/// Held by the one process that writes into a data folder. Let go when it ends, crash included.
class WriterLock {
public:
    /// Refused while another holder is alive, after having asked again for `patience_ms`. The file
    /// itself stays and means nothing.
    [[nodiscard]] static Result<WriterLock> taken(const std::filesystem::path& file,
                                                  Disk& disk = system_disk(),
                                                  std::int64_t patience_ms = 0);

    WriterLock(WriterLock&& other) noexcept;
    WriterLock& operator=(WriterLock&& other) noexcept;
    ~WriterLock();

private:
    WriterLock(int descriptor, Disk& disk) : descriptor_{descriptor}, disk_{&disk} {}
    int descriptor_;  ///< -1 once moved from
    Disk* disk_;
};

}  // namespace wm::store
