// Backups of a data folder: copies of the journal that were opened, verified and folded.
//
// A backup folder holds
//   backups.json           canonical: whose it is, who was erased, a line for each copy
//   <name>.journal         SQLite: the tables of journal.db without caches and free pages
//   attachments/<id>       shared by all copies; locked, as in the data folder
//   pins/<hash>, settings.toml, checklists/ as the company published them
//   keys/customers.box     one for all copies, written anew with each copy and each erasure
//   keys/*.sealed, people.json   where persons have PINs: as they lie in the data folder
//   keys/keys.box          with a passphrase: the three keys, locked under it
//   keys/master.key        with neither: what opens customers.box. The keys that sign are then not in it.
// The words of an erased customer stay in older copies, locked under a key that is nowhere any more.
//
// A copy is named after its day. One of a journal that does not verify is named "<day>-damaged", one
// of a journal that lacks entries of an earlier copy "<day>-set-back", and the tables before they are
// brought to another version "<day>-before-version-N"; while there is a doubt no good copy is removed.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "problem/result.hpp"
#include "record/entry.hpp"
#include "store/disk.hpp"
#include "store/journal.hpp"

namespace wm::store {

struct BackupLine {
    std::string name;     ///< "2026-11-27", "2026-11-27-damaged"
    std::string made_at;  ///< as the caller said
    std::size_t entries = 0, jobs = 0;
    std::vector<std::string> reasons;  ///< what did not verify; empty = good
    std::vector<record::Head> heads;
    [[nodiscard]] bool is_good() const { return reasons.empty(); }
};

struct BackupIndex {
    std::string house;   ///< Keys::house() of the folder; empty before its keys were known
    std::string device;  ///< that made the last copy
    std::vector<std::string> erased;
    std::vector<BackupLine> lines;  ///< oldest first
};

/// An empty index where there is none yet.
[[nodiscard]] Result<BackupIndex> read_backup_index(const std::filesystem::path& backups,
                                                    Disk& disk = system_disk());

/// Which of these names go when all are good: seven days and, before them, the newest of each of four
/// weeks (Monday to Sunday) stay; of names that are no plain day the two newest.
[[nodiscard]] std::vector<std::string> backups_to_drop(const std::vector<std::string>& names);

struct BackupRequest {
    std::string day;         ///< "2026-11-27": the local day
    std::string made_at;     ///< for the index
    std::string passphrase;  ///< empty = the signing keys stay out unless PINs seal them
};

struct BackupMade {
    std::filesystem::path file;
    BackupLine line;
    std::size_t attachments = 0;
    std::vector<std::string> dropped;
};

/// Copies, then opens the copy, recomputes every hash and folds every job. A copy that differs from
/// the journal or cannot be folded is a Problem (kind NotStored) and is not kept.
[[nodiscard]] Result<BackupMade> make_backup(const Journal& journal, const BackupRequest& request,
                                             const RandomBytes& random);

/// After an erasure: the backup folder loses the key and the files too. No backups, nothing to do.
[[nodiscard]] Result<void> erase_in_backups(const std::filesystem::path& backups, const Keys& keys,
                                            const std::vector<std::string>& customers,
                                            const std::vector<std::string>& attachments, Disk& disk);

}  // namespace wm::store
