// Backups as the desk makes them: one a day by itself, and on demand.
#pragma once

#include <optional>
#include <string>

#include "desk/desk.hpp"
#include "exchange/exchanged.hpp"
#include "problem/result.hpp"
#include "store/backup.hpp"

namespace wm::desk {

/// Of this day. A second one of a day takes the place of the first.
[[nodiscard]] Result<store::BackupMade> back_up(const Desk& desk);

/// One a day, before the first writing of that day; nothing where there is one or no entry yet.
[[nodiscard]] Result<std::optional<store::BackupMade>> back_up_if_due(const Desk& desk);

struct BackupView {
    std::string folder;
    bool is_beside_journal = false;  ///< in the data folder: lost with it
    bool is_due = false;
    std::string signing_keys;  ///< "sealed by PINs", "locked under a passphrase", "not in it"
    store::BackupIndex index;
    exchange::NotExchanged not_exchanged;
};
[[nodiscard]] Result<BackupView> backup_view(const Desk& desk);

/// "1 entry", "12 entries".
[[nodiscard]] std::string entries_in_words(std::size_t count);
/// What would be lost with this device today, as sentences with a line end each.
[[nodiscard]] std::string in_words(const exchange::NotExchanged& waiting);

}  // namespace wm::desk
