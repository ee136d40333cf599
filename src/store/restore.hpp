// Restoring a data folder from a backup. Nothing is deleted: what was there is moved aside.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>

#include "problem/result.hpp"
#include "store/backup.hpp"
#include "store/disk.hpp"

namespace wm::store {

/// What may happen to entries that are here and not in the backup.
enum class OwnEntries { Refuse, MoveAside };

struct RestoreRequest {
    std::filesystem::path backups;  ///< the backup folder
    std::string name;               ///< which copy; empty = the newest good one
    std::filesystem::path folder;   ///< the data folder; made if missing
    std::string passphrase;         ///< for keys.box; may be empty
    OwnEntries own = OwnEntries::Refuse;
    std::string aside;  ///< name for the folder below set-aside/ that takes what was here
    std::string vfs;    ///< as in Opening
    Disk* disk = nullptr;
};

struct Restored {
    BackupLine line;
    std::vector<std::string> passed_over;  ///< newer ones that do not verify any more
    std::size_t only_here = 0;        ///< entries of the former journal that the copy lacks
    std::filesystem::path set_aside;  ///< where the former journal lies now; empty = there was none
    std::size_t files_missing = 0;    ///< photos and reports that are neither here nor in the backup
    bool has_signing_keys = false;    ///< the device's former key is here, open or sealed
    bool is_sealed = false;           ///< by PINs
};

/// Verifies the copy first. Refused (kind Refused) when the journal here holds entries that the copy
/// does not, or cannot be read to tell, unless they may be moved aside; nothing was changed then.
/// Cut short, it can be done again. The next who writes does so as a new device that names the former
/// one as its predecessor, and customers who were erased meanwhile are erased again.
[[nodiscard]] Result<Restored> restore(const RestoreRequest& request);

}  // namespace wm::store
