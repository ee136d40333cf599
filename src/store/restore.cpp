#include "store/restore.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <set>

#include "store/backup_keys.hpp"
#include "store/files.hpp"
#include "store/inside.hpp"
#include "store/pins.hpp"
#include "store/restore_marker.hpp"

namespace wm::store {
namespace {

namespace fs = std::filesystem;

Problem no_backup(const fs::path& backups, std::string what) {
    return {.what = std::move(what),
            .where = backups.string(),
            .what_to_do = "See witnessmark backup --status, or name the folder or the copy with --from.",
            .kind = ProblemKind::Unreadable};
}

struct Chosen {
    fs::path file;
    BackupLine line;
    BackupIndex index;
};

/// Newest first; the one that a person names alone. At least one.
Result<std::vector<Chosen>> candidates(const RestoreRequest& request, Disk& disk) {
    auto index = read_backup_index(request.backups, disk);
    if (!index) {
        if (request.name.empty()) return refused(index.error());
        index = BackupIndex{};  // the copy itself says what it holds
    }
    std::vector<BackupLine> lines;
    for (const BackupLine& line : index->lines)
        if (request.name.empty() ? line.is_good() : line.name == request.name) lines.insert(lines.begin(), line);
    if (lines.empty() && request.name.empty()) return refused(no_backup(request.backups, "There is no good backup here."));
    if (lines.empty()) lines.push_back({.name = request.name, .made_at = "", .entries = 0, .jobs = 0, .reasons = {}, .heads = {}});
    std::vector<Chosen> all;
    for (BackupLine& line : lines) {
        fs::path file = request.backups / (line.name + ".journal");
        all.push_back({std::move(file), std::move(line), *index});
    }
    return all;
}

Result<Journal> opened(const fs::path& file, const fs::path& folder_of_files, const RestoreRequest& request, Disk& disk) {
    Opening opening{.folder = folder_of_files, .random = {}, .wall_ms = 0, .company = "", .vfs = request.vfs, .disk = &disk};
    opening.file = file;
    return Journal::open_copy(std::move(opening), Keys::none(disk));
}

/// Chains recomputed; which entries it holds.
Result<std::set<std::string>> hashes_of_good(const Chosen& from, const RestoreRequest& request, Disk& disk) {
    const auto there = look_at_file(from.file, disk);
    if (!there) return refused(there.error());
    if (!*there) return refused(no_backup(request.backups, fmt::format("There is no backup \"{}\" here.", from.line.name)));
    const auto copy = opened(from.file, request.backups, request, disk);
    if (!copy) return refused(copy.error());
    const auto report = copy->verify_journal(Files::LeaveOut);
    if (!report) return refused(report.error());
    // A copy of a journal that was not sound is taken when a person names it.
    if (!report->is_genuine() && request.name.empty())
        return refused(no_backup(from.file, "This backup does not verify: " + report->reasons.front()));
    const auto all = copy->read_all();
    if (!all) return refused(all.error());
    std::set<std::string> hashes;
    for (const record::Written& written : all->entries) hashes.insert(written.hash);
    return hashes;
}

/// The newest that still verifies, and what it holds: a copy that lay on a bad disk does not stand before the one before.
struct Sound {
    Chosen from;
    std::set<std::string> hashes;
    std::vector<std::string> passed_over;
};

Result<Sound> newest_sound(const RestoreRequest& request, Disk& disk) {
    auto all = candidates(request, disk);
    if (!all) return refused(all.error());
    std::vector<std::string> passed_over;
    std::optional<Problem> first;
    for (Chosen& each : *all) {
        auto hashes = hashes_of_good(each, request, disk);
        if (hashes) return Sound{std::move(each), std::move(*hashes), std::move(passed_over)};
        if (!first) first = hashes.error();
        passed_over.push_back(each.line.name);
    }
    return refused(std::move(*first));
}

struct Former {
    bool is_there = false;
    bool can_be_told = true;  ///< false: it cannot be read whole
    std::size_t only_here = 0;
    std::vector<std::string> erased;
};

Result<Former> former_journal(const RestoreRequest& request, const std::set<std::string>& in_copy, Disk& disk) {
    const fs::path file = request.folder / "journal.db";
    Former former;
    const auto there = look_at_file(file, disk);
    if (!there) return refused(there.error());
    if (!*there || (*there)->size == 0) return former;
    former.is_there = true;
    const auto journal = opened(file, request.folder, request, disk);
    const auto all = journal ? journal->read_all() : Result<Entries>{refused(journal.error())};
    former.can_be_told = all && all->damaged.empty();
    if (!all) return former;
    for (const record::Written& written : all->entries) former.only_here += in_copy.contains(written.hash) ? 0 : 1;
    if (auto erased = journal->erased_customers()) former.erased = std::move(*erased);
    return former;
}

enum class KeysHere { None, OfThisHouse, OfAnother };

/// A folder that was only looked into on a new tablet has keys of its own, which open nothing of the backup.
Result<KeysHere> keys_in(const RestoreRequest& request, const BackupIndex& index, Disk& disk) {
    const auto customers = look_at_file(request.folder / "keys/customers.box", disk);
    if (!customers) return refused(customers.error());
    if (!*customers) return KeysHere::None;
    const fs::path ours = request.folder / "keys/master.sealed";
    const auto sealed = look_at_file(ours, disk);
    if (!sealed) return refused(sealed.error());
    if (*sealed) {
        const auto here = read_file(ours, disk);
        const auto there = read_file(request.backups / "keys/master.sealed", disk);
        return here && there && *here != *there ? KeysHere::OfAnother : KeysHere::OfThisHouse;
    }
    const auto keys = Keys::open(request.folder, disk);
    if (!keys) return KeysHere::OfThisHouse;
    return index.house.empty() || keys->house() == index.house ? KeysHere::OfThisHouse : KeysHere::OfAnother;
}

Result<void> moved_aside(const RestoreRequest& request, const std::string& name, const fs::path& aside, Disk& disk) {
    const auto there = look_at_file(request.folder / name, disk);
    if (!there) return refused(there.error());
    if (!*there) return {};
    if (auto made = make_folder(aside, disk); !made) return made;
    fs::path to = aside / name;
    // Begun, cut short and begun again: nothing that was moved before is replaced.
    for (int n = 2; look_at_file(to, disk).value_or(std::nullopt); ++n) to = aside / fmt::format("{}.{}", name, n);
    if (disk.rename((request.folder / name).string(), to.string()) == 0) return {};
    return refused({.what = fmt::format("\"{}\" could not be moved aside.", name),
                    .where = request.folder.string(),
                    .what_to_do = "See that the folder may be written, then do it again.",
                    .kind = ProblemKind::NotStored});
}

Result<void> file_if_missing(const fs::path& from, const fs::path& to, Disk& disk) {
    const auto there = look_at_file(to, disk);
    if (!there) return refused(there.error());
    if (*there) return {};
    const auto kept = look_at_file(from, disk);
    if (!kept) return refused(kept.error());
    if (!*kept) return {};
    const auto bytes = read_file(from, disk);
    if (!bytes) return refused(bytes.error());
    return write_file(to, *bytes, disk);
}

/// How many files are missing that were not erased.
Result<std::size_t> bring_files(const Chosen& from, const RestoreRequest& request, const std::vector<std::string>& erased, Disk& disk) {
    const auto copy = opened(from.file, request.backups, request, disk);
    if (!copy) return refused(copy.error());
    const auto files = copy->attachments();
    if (!files) return refused(files.error());
    std::size_t missing = 0;
    for (const auto& [id, customer] : *files) {
        if (std::find(erased.begin(), erased.end(), customer) != erased.end()) continue;
        const fs::path to = request.folder / "attachments" / id;
        if (auto done = file_if_missing(request.backups / "attachments" / id, to, disk); !done) return refused(done.error());
        const auto there = look_at_file(to, disk);
        if (!there) return refused(there.error());
        missing += *there ? 0 : 1;
    }
    const auto all = copy->read_all();
    if (!all) return refused(all.error());
    for (const record::Written& written : all->entries) {
        const auto* job = std::get_if<record::JobOpened>(&written.entry.body);
        if (job == nullptr || job->checklist_hash.find('/') != std::string::npos || job->checklist_hash.empty()) continue;
        const auto done = file_if_missing(request.backups / "pins" / job->checklist_hash,
                                          request.folder / "pins" / job->checklist_hash, disk);
        if (!done) return refused(done.error());
    }
    for (const fs::path& list : published_lists(request.backups)) {
        if (auto brought = file_if_missing(request.backups / list, request.folder / list, disk); !brought) return refused(brought.error());
    }
    const auto done = file_if_missing(request.backups / "settings.toml", request.folder / "settings.toml", disk);
    if (!done) return refused(done.error());
    return missing;
}

Result<bool> is_there(const fs::path& file, Disk& disk) {
    const auto there = look_at_file(file, disk);
    if (!there) return refused(there.error());
    return there->has_value();
}

}  // namespace

Result<Restored> restore(const RestoreRequest& request) {
    Disk& disk = request.disk == nullptr ? system_disk() : *request.disk;
    const auto sound = newest_sound(request, disk);
    if (!sound) return refused(sound.error());
    const Chosen* const from = &sound->from;
    if (auto made = make_folder(request.folder, disk); !made) return refused(made.error());
    const auto lock = WriterLock::taken(request.folder / "writer.lock", disk);
    if (!lock) return refused(lock.error());
    const auto begun = read_restore_marker(request.folder, disk);
    if (!begun) return refused(begun.error());
    const bool goes_on = *begun && (*begun)->step == RestoreStep::Begun;

    const auto former = former_journal(request, sound->hashes, disk);
    if (!former) return refused(former.error());
    // A restore that was cut short has asked already.
    if (request.own == OwnEntries::Refuse && !goes_on && (former->only_here > 0 || !former->can_be_told)) {
        return refused({.what = former->only_here > 0
                                    ? fmt::format("The journal here holds {} {} that the backup of {} does not.", former->only_here,
                                                  former->only_here == 1 ? "entry" : "entries", from->line.name)
                                    : "The journal here cannot be read whole, so that nobody can tell what it holds beside the backup.",
                        .where = request.folder.string(),
                        .what_to_do = "Nothing was changed. Pack it first, or restore with --move-aside: it is then kept in the "
                                      "folder set-aside.",
                        .kind = ProblemKind::Refused});
    }
    const auto keys = keys_in(request, from->index, disk);
    if (!keys) return refused(keys.error());

    RestoreMarker marker{RestoreStep::Begun, from->index.device, former->erased, goes_on ? (*begun)->aside : request.aside};
    for (const auto* more : {&from->index.erased, goes_on ? &(*begun)->erased : nullptr}) {
        if (more == nullptr) continue;
        for (const std::string& customer : *more)
            if (std::find(marker.erased.begin(), marker.erased.end(), customer) == marker.erased.end()) marker.erased.push_back(customer);
    }
    if (auto done = write_restore_marker(request.folder, marker, disk); !done) return refused(done.error());
    const fs::path aside = request.folder / "set-aside" / marker.aside;
    for (const char* name : {"journal.db", "journal.db-wal", "journal.db-shm"})
        if (auto done = moved_aside(request, name, aside, disk); !done) return refused(done.error());
    if (*keys == KeysHere::OfAnother)
        if (auto done = moved_aside(request, "keys", aside, disk); !done) return refused(done.error());
    const auto missing = bring_files(*from, request, marker.erased, disk);
    if (!missing) return refused(missing.error());
    if (*keys != KeysHere::OfThisHouse) {
        const auto done = keys_from_backup(request.backups, request.folder, request.passphrase, disk);
        if (!done) return refused(done.error());
    }
    const auto bytes = read_file(from->file, disk);
    if (!bytes) return refused(bytes.error());
    if (auto done = write_file(request.folder / "journal.db", *bytes, disk); !done) return refused(done.error());
    marker.step = RestoreStep::Placed;
    if (auto done = write_restore_marker(request.folder, marker, disk); !done) return refused(done.error());

    const auto sealed = is_there(request.folder / "keys/device.sealed", disk);
    if (!sealed) return refused(sealed.error());
    const auto open = is_there(request.folder / "keys/device.key", disk);
    if (!open) return refused(open.error());
    const auto kept = is_there(aside, disk);
    if (!kept) return refused(kept.error());
    return Restored{.line = from->line,
                    .passed_over = sound->passed_over,
                    .only_here = former->only_here,
                    .set_aside = *kept ? aside : fs::path{},
                    .files_missing = *missing,
                    .has_signing_keys = *sealed || *open,
                    .is_sealed = *sealed && !*open};
}

}  // namespace wm::store
