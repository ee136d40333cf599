#include "desk/backup.hpp"

#include <fmt/format.h>

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

std::string entries_in_words(std::size_t count) { return fmt::format("{} {}", count, count == 1 ? "entry" : "entries"); }

std::string in_words(const exchange::NotExchanged& waiting) {
    if (waiting.entries == 0 && waiting.last_bundle.empty()) return "Nothing was recorded on this device yet.\n";
    std::string text = waiting.entries == 0 ? "Everything recorded here is in a bundle"
                                            : fmt::format("Not in any bundle yet: {} of {} {}, since {} UTC",
                                                          entries_in_words(waiting.entries), waiting.jobs.size(),
                                                          waiting.jobs.size() == 1 ? "job" : "jobs", waiting.since.substr(0, 10) + " " + waiting.since.substr(11, 5));
    text += waiting.last_bundle.empty() ? "; none was made so far.\n" : fmt::format("; the last was made at {}.\n", waiting.last_bundle);
    text += waiting.not_confirmed == 0 ? "Another device has all of it.\n"
                                       : fmt::format("Of {} nobody else has said to have them.\n", entries_in_words(waiting.not_confirmed));
    return text;
}

}  // namespace wm::desk
