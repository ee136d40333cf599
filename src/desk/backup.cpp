#include "desk/backup.hpp"

#include <algorithm>

#include "desk/moment.hpp"

namespace wm::desk {

namespace {

bool has_one_of(const store::BackupIndex& index, const std::string& day) {
    return std::any_of(index.lines.begin(), index.lines.end(), [&](const auto& line) {
        return line.name == day || line.name == day + "-damaged" || line.name == day + "-set-back";
    });
}

}  // namespace

Result<store::BackupMade> back_up(const Desk& desk) {
    const Setup& setup = desk.setup();
    const Moment now = setup.now();
    return store::make_backup(desk.journal(), {.day = day_of(now), .made_at = text_of(now), .passphrase = setup.backup_passphrase},
                              setup.random);
}

Result<std::optional<store::BackupMade>> back_up_if_due(const Desk& desk) {
    const auto index = store::read_backup_index(desk.journal().backups(), desk.journal().disk());
    if (!index) return tl::unexpected(index.error());
    if (has_one_of(*index, day_of(desk.setup().now()))) return std::optional<store::BackupMade>{};
    const auto heads = desk.journal().heads();
    if (!heads) return tl::unexpected(heads.error());
    if (heads->empty()) return std::optional<store::BackupMade>{};
    auto made = back_up(desk);
    if (!made) return tl::unexpected(made.error());
    return std::optional{std::move(*made)};
}

Result<BackupView> backup_view(const Desk& desk) {
    const auto& journal = desk.journal();
    auto index = store::read_backup_index(journal.backups(), journal.disk());
    if (!index) return tl::unexpected(index.error());
    auto waiting = exchange::not_exchanged(journal);
    if (!waiting) return tl::unexpected(waiting.error());
    BackupView view{.folder = journal.backups().string(),
                    .is_beside_journal = journal.backups().lexically_normal().string().starts_with(journal.folder().lexically_normal().string()),
                    .is_due = !has_one_of(*index, day_of(desk.setup().now())),
                    .signing_keys = journal.keys().sealed_by_pin() ? "sealed by PINs"
                                    : desk.setup().backup_passphrase.empty() ? "not in it"
                                                                              : "locked under a passphrase",
                    .index = std::move(*index),
                    .not_exchanged = std::move(*waiting)};
    return view;
}

}  // namespace wm::desk
