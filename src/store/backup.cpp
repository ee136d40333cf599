#include "store/backup.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <set>

#include "digest/document.hpp"
#include "digest/hash.hpp"
#include "record/clock.hpp"
#include "record/state.hpp"
#include "store/files.hpp"
#include "store/inside.hpp"
#include "store/pins.hpp"
#include "store/schema.hpp"

namespace wm::store {
namespace {

namespace fs = std::filesystem;
using digest::Document;

constexpr std::int64_t index_format = 1;
constexpr std::size_t days_kept = 7, weeks_kept = 4, others_kept = 2;
constexpr std::size_t length_of_day = 10;

fs::path index_file(const fs::path& backups) {
    return backups / "backups.json";
}

fs::path file_named(const fs::path& backups, const std::string& name) {
    return backups / (name + ".journal");
}

std::string text_in(const Document& document, std::string_view name) {
    const Document* member = document.find(name);
    return member != nullptr && member->text() != nullptr ? *member->text() : std::string{};
}

std::int64_t number_in(const Document& document, std::string_view name) {
    const Document* member = document.find(name);
    return member != nullptr && member->integer() != nullptr ? *member->integer() : 0;
}

const Document::Array& items_in(const Document& document, std::string_view name) {
    static const Document::Array none;
    const Document* member = document.find(name);
    return member != nullptr && member->items() != nullptr ? *member->items() : none;
}

std::vector<std::string> texts_in(const Document& document, std::string_view name) {
    std::vector<std::string> texts;
    for (const Document& each : items_in(document, name))
        if (each.text() != nullptr) texts.push_back(*each.text());
    return texts;
}

Document texts(const std::vector<std::string>& all) {
    Document list = Document::array();
    for (const std::string& each : all) list.add(Document{each});
    return list;
}

Document document_of(const BackupLine& line) {
    Document heads = Document::array();
    for (const record::Head& head : line.heads)
        heads.add(Document::object()
                      .set("device", Document{head.device})
                      .set("hash", Document{head.hash})
                      .set("seq", Document{head.seq}));
    return Document::object()
        .set("entries", Document{static_cast<std::int64_t>(line.entries)})
        .set("heads", std::move(heads))
        .set("jobs", Document{static_cast<std::int64_t>(line.jobs)})
        .set("made_at", Document{line.made_at})
        .set("name", Document{line.name})
        .set("reasons", texts(line.reasons));
}

BackupLine line_of(const Document& document) {
    BackupLine line{.name = text_in(document, "name"),
                    .made_at = text_in(document, "made_at"),
                    .entries = static_cast<std::size_t>(number_in(document, "entries")),
                    .jobs = static_cast<std::size_t>(number_in(document, "jobs")),
                    .reasons = texts_in(document, "reasons"),
                    .heads = {}};
    for (const Document& head : items_in(document, "heads"))
        line.heads.push_back({text_in(head, "device"), number_in(head, "seq"), text_in(head, "hash")});
    return line;
}

Result<void> write_index(const fs::path& backups, const BackupIndex& index, Disk& disk) {
    Document lines = Document::array();
    for (const BackupLine& line : index.lines) lines.add(document_of(line));
    const auto text = digest::canonical_text(Document::object()
                                                 .set("backups", std::move(lines))
                                                 .set("device", Document{index.device})
                                                 .set("erased", texts(index.erased))
                                                 .set("format", Document{index_format})
                                                 .set("house", Document{index.house}));
    if (!text) return refused(text.error());
    return write_file(index_file(backups), *text, disk);
}

/// Number of the week, Monday to Sunday, of a name that is a plain day.
std::optional<std::int64_t> week_of(const std::string& name) {
    constexpr std::int64_t day_ms = 86'400'000, thursday_to_monday = 3;
    const auto stamp = record::stamp_of(name + "T00:00:00.000Z.0000");
    if (!stamp) return std::nullopt;
    return (stamp->wall_ms / day_ms + thursday_to_monday) / 7;
}

Problem not_kept(const fs::path& file, std::string what) {
    return {.what = std::move(what),
            .where = file.string(),
            .what_to_do = "The backups made before are as they were. Look at the disk's health; witnessmark attest "
                          "--journal says whether the journal itself is sound.",
            .kind = ProblemKind::NotStored};
}

/// A file that is named by its SHA-256 goes into the folder once.
Result<bool> kept_once(const fs::path& from, const fs::path& to, const std::string& hash, Disk& disk) {
    const auto there = look_at_file(to, disk);
    if (!there) return refused(there.error());
    if (*there) return false;
    const auto bytes = read_file(from, disk);
    // One that is missing or changed here is told by the verification of the copy.
    if (!bytes || digest::sha256_hex(*bytes) != hash) return false;
    if (auto done = write_file(to, *bytes, disk); !done) return refused(done.error());
    return true;
}

/// Opened under the name it will have once it is good; every hash anew, every job folded.
Result<BackupLine> verified(const fs::path& file, const fs::path& folder_of_files, const Keys& keys, Disk& disk,
                            const std::string& vfs, Steps steps = own_steps()) {
    Opening opening{.folder = folder_of_files, .random = {}, .wall_ms = 0, .company = "", .vfs = vfs, .disk = &disk};
    opening.file = file;
    opening.steps = steps;
    auto copy = Journal::open_copy(std::move(opening), keys);
    if (!copy) return refused(copy.error());
    const auto report = copy->verify_journal(Files::LookOnly);
    if (!report) return refused(report.error());
    const auto jobs = copy->jobs();
    if (!jobs) return refused(jobs.error());
    BackupLine line{.name = {}, .made_at = {}, .entries = report->chains.entries, .jobs = jobs->size(),
                    .reasons = report->reasons, .heads = {}};
    for (const JobLine& job : *jobs) {
        const auto entries = copy->read_job(job.job);
        if (!entries) return refused(entries.error());
        if (const auto state = record::folded(job.job, entries->entries); state.number != job.job)
            line.reasons.push_back(fmt::format("Job {} cannot be folded.", job.job));
    }
    auto heads = copy->heads();
    if (!heads) return refused(heads.error());
    line.heads = std::move(*heads);
    return line;
}

/// The checklists that jobs of the journal pin, and the files their entries name.
Result<std::size_t> keep_files(const Journal& journal) {
    const fs::path backups = journal.backups();
    std::size_t fresh = 0;
    const auto files = journal.attachments();
    if (!files) return refused(files.error());
    for (const auto& [id, customer] : *files) {
        const auto done = kept_once(journal.folder() / "attachments" / id, backups / "attachments" / id, id, journal.disk());
        if (!done) return refused(done.error());
        fresh += *done;
    }
    const auto all = journal.read_all();
    if (!all) return refused(all.error());
    std::set<std::string> pins, gone;
    for (const record::Written& written : all->entries) {
        if (const auto* opened = std::get_if<record::JobOpened>(&written.entry.body)) pins.insert(opened->checklist_hash);
        for (const record::Attached* file : record::attached_in(written.entry.body)) gone.insert(file->id);
    }
    // What was erased while this folder could not be reached.
    for (const auto& [id, customer] : *files) gone.erase(id);
    for (const std::string& id : gone) {
        const auto there = look_at_file(backups / "attachments" / id, journal.disk());
        if (!there) return refused(there.error());
        if (!*there) continue;
        if (auto done = remove_file(backups / "attachments" / id, journal.disk()); !done) return refused(done.error());
    }
    for (const std::string& pin : pins) {
        if (!digest::is_sha256_hex(pin)) continue;
        const auto done = kept_once(journal.folder() / "pins" / pin, backups / "pins" / pin, pin, journal.disk());
        if (!done) return refused(done.error());
    }
    for (const fs::path& list : published_lists(journal.folder())) {
        const auto now = read_file(journal.folder() / list, journal.disk());
        if (!now) return refused(now.error());
        const auto kept = look_at_file(backups / list, journal.disk());
        if (!kept) return refused(kept.error());
        if (*kept) {
            const auto before = read_file(backups / list, journal.disk());
            if (before && *before == *now) continue;
        }
        if (auto done = write_file(backups / list, *now, journal.disk()); !done) return refused(done.error());
    }
    const fs::path settings = journal.folder() / "settings.toml";
    const auto there = look_at_file(settings, journal.disk());
    if (!there) return refused(there.error());
    if (!*there) return fresh;
    const auto text = read_file(settings, journal.disk());
    if (!text) return refused(text.error());
    if (auto done = write_file(backups / "settings.toml", *text, journal.disk()); !done) return refused(done.error());
    return fresh;
}

/// Whether every entry that ended a chain in the newest good copy is still here.
Result<bool> continues(const Journal& journal, const BackupIndex& index) {
    const auto last = std::find_if(index.lines.rbegin(), index.lines.rend(), [](const BackupLine& line) { return line.is_good(); });
    if (last == index.lines.rend()) return true;
    for (const record::Head& head : last->heads) {
        const auto here = journal.holds(head);
        if (!here) return refused(here.error());
        if (!*here) return false;
    }
    return true;
}

Result<void> put_in_place(const fs::path& partial, const fs::path& file, Disk& disk) {
    if (disk.rename(partial.string(), file.string()) != 0)
        return refused(not_kept(file, "The backup could not be put in its place."));
    const int folder = disk.open(file.parent_path().string(), OpenAs::Folder);
    const bool synced = folder >= 0 && disk.sync(folder) == 0;
    if (folder >= 0) disk.close(folder);
    if (!synced) return refused(not_kept(file, "The disk did not confirm the backup."));
    return {};
}

Result<void> add_line(const fs::path& backups, BackupIndex& index, const BackupLine& line, Disk& disk) {
    std::erase_if(index.lines, [&](const BackupLine& each) { return each.name == line.name; });
    index.lines.push_back(line);
    return write_index(backups, index, disk);
}

}  // namespace

Result<BackupIndex> read_backup_index(const fs::path& backups, Disk& disk) {
    const auto there = look_at_file(index_file(backups), disk);
    if (!there) return refused(there.error());
    if (!*there) return BackupIndex{};
    const auto text = read_file(index_file(backups), disk);
    if (!text) return refused(text.error());
    const auto document = digest::read_canonical(*text, index_file(backups).string());
    if (!document || number_in(*document, "format") != index_format) {
        return refused({.what = "The list of the backups is damaged or of a later version.",
                        .where = index_file(backups).string(),
                        .what_to_do = "Move it away: the copies beside it stay good, and restore --from FILE takes each "
                                      "of them.",
                        .kind = ProblemKind::Unreadable});
    }
    BackupIndex index{text_in(*document, "house"), text_in(*document, "device"), texts_in(*document, "erased"), {}};
    for (const Document& line : items_in(*document, "backups")) index.lines.push_back(line_of(line));
    return index;
}

std::vector<std::string> backups_to_drop(const std::vector<std::string>& names) {
    std::vector<std::string> newest_first = names;
    std::sort(newest_first.rbegin(), newest_first.rend());
    std::vector<std::string> drop;
    std::size_t days = 0, others = 0;
    std::set<std::int64_t> weeks;
    for (const std::string& name : newest_first) {
        const auto week = week_of(name);
        if (!week) {
            if (++others > others_kept) drop.push_back(name);
        } else if (days < days_kept) {
            ++days;
        } else if (weeks.size() >= weeks_kept || !weeks.insert(*week).second) {
            drop.push_back(name);
        }
    }
    return drop;
}

Result<BackupMade> make_backup(const Journal& journal, const BackupRequest& request, const RandomBytes& random) {
    const fs::path backups = journal.backups();
    Disk& disk = journal.disk();
    auto index = read_backup_index(backups, disk);
    if (!index) return refused(index.error());
    const Keys& keys = journal.keys();
    if (!index->house.empty() && index->house != keys.house())
        return refused(not_kept(backups, "This folder holds the backups of another data folder."));
    const auto goes_on = continues(journal, *index);
    if (!goes_on) return refused(goes_on.error());
    if (auto made = make_folder(backups, disk); !made) return refused(made.error());
    const auto fresh = keep_files(journal);
    if (!fresh) return refused(fresh.error());
    if (auto done = keys.back_up_into(backups, request.passphrase, random); !done) return refused(done.error());

    const fs::path partial = file_named(backups, "being-made");
    if (auto done = journal.copy_tables_to(partial); !done) return refused(done.error());
    auto line = verified(partial, backups, keys, disk, disk.vfs());
    if (!line) return refused(not_kept(partial, "The backup could not be read again: " + line.error().what));
    auto heads = journal.heads();
    if (!heads) return refused(heads.error());
    if (line->heads != *heads) return refused(not_kept(partial, "The backup holds other entries than the journal."));
    line->made_at = request.made_at;
    line->name = request.day;
    if (!line->is_good()) line->name += "-damaged";
    else if (!*goes_on) line->name += "-set-back";
    const fs::path file = file_named(backups, line->name);
    if (auto done = put_in_place(partial, file, disk); !done) return refused(done.error());

    index->house = keys.house();
    index->device = journal.device();
    const auto erased = journal.erased_customers();
    if (!erased) return refused(erased.error());
    index->erased = *erased;
    BackupMade made{file, *line, *fresh, {}};
    if (line->name == request.day) {
        std::vector<std::string> names{line->name};
        for (const BackupLine& each : index->lines)
            if (each.name != line->name) names.push_back(each.name);
        made.dropped = backups_to_drop(names);
        std::erase_if(index->lines, [&](const BackupLine& each) {
            return std::find(made.dropped.begin(), made.dropped.end(), each.name) != made.dropped.end();
        });
    }
    // The list first: it never names a copy that is gone.
    if (auto done = add_line(backups, *index, *line, disk); !done) return refused(done.error());
    for (const std::string& name : made.dropped)
        if (auto done = remove_file(file_named(backups, name), disk); !done) return refused(done.error());
    return made;
}

Result<void> copy_before_migration(const Opening& opening, const Database& database, std::int64_t version, Disk& disk) {
    const fs::path backups = opening.backups.empty() ? opening.folder / "backups" : opening.backups;
    auto index = read_backup_index(backups, disk);
    if (!index) return refused(index.error());
    if (auto made = make_folder(backups, disk); !made) return made;
    const std::string day = record::text_of(record::next_stamp({}, opening.wall_ms)).substr(0, length_of_day);
    const fs::path partial = file_named(backups, "being-made");
    if (auto done = remove_file(partial, disk); !done) return done;
    if (auto done = copy_tables(database, partial, disk); !done) return done;
    auto line = verified(partial, opening.folder, Keys::none(disk), disk, disk.vfs(), opening.steps);
    if (!line) return refused(not_kept(partial, "The journal could not be copied before its tables are brought up: " + line.error().what));
    line->name = fmt::format("{}-before-version-{}", day, opening.steps.back().version);
    line->made_at = record::text_of(record::next_stamp({}, opening.wall_ms));
    // What is wrong with the journal is told elsewhere; the copy is what it was, from version `version`.
    line->reasons.insert(line->reasons.begin(), fmt::format("Its tables are those of version {}.", version));
    if (auto done = put_in_place(partial, file_named(backups, line->name), disk); !done) return done;
    return add_line(backups, *index, *line, disk);
}

Result<void> erase_in_backups(const fs::path& backups, const Keys& keys, const std::vector<std::string>& customers,
                              const std::vector<std::string>& attachments, Disk& disk) {
    auto index = read_backup_index(backups, disk);
    if (!index) return refused(index.error());
    if (index->house != keys.house()) return {};
    for (const std::string& id : attachments)
        if (auto done = remove_file(backups / "attachments" / id, disk); !done) return done;
    if (auto done = keys.renew_customers_in(backups); !done) return done;
    for (const std::string& customer : customers)
        if (std::find(index->erased.begin(), index->erased.end(), customer) == index->erased.end()) index->erased.push_back(customer);
    return write_index(backups, *index, disk);
}

}  // namespace wm::store
