#include "store/journal.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "digest/hash.hpp"
#include "store/inside.hpp"
#include "store/schema.hpp"

namespace wm::store {

namespace fs = std::filesystem;

Journal::Journal(std::unique_ptr<Inside> inside) : inside_{std::move(inside)} {}
Journal::Journal(Journal&&) noexcept = default;
Journal& Journal::operator=(Journal&&) noexcept = default;
Journal::~Journal() = default;

const Keys& Journal::keys() const {
    return inside_->keys;
}
Disk& Journal::disk() const {
    return *inside_->disk;
}
const fs::path& Journal::folder() const {
    return inside_->opening.folder;
}
fs::path Journal::backups() const {
    return inside_->backups();
}
const std::string& Journal::device() const {
    return inside_->device;
}
const record::Head& Journal::head() const {
    return inside_->head;
}
int Journal::told_of_clocks() const { return inside_->told_of_clocks; }
const std::string& Journal::read_only_because() const {
    return inside_->read_only_because;
}

namespace {

/// A journal that is only looked at, before its head is found. `Inside` is Journal::Inside, which only a member may name.
template <class Inside>
std::unique_ptr<Inside> read_only(Opening opening, std::unique_ptr<WatchedDisk> disk, Keys keys, Database database,
                                  std::string because) {
    return std::make_unique<Inside>(Inside{.opening = std::move(opening),
                                           .disk = std::move(disk),
                                           .keys = std::move(keys),
                                           .lock = std::nullopt,
                                           .database = std::move(database),
                                           .device = {},
                                           .head = {},
                                           .clock = {},
                                           .read_only_because = std::move(because),
                                           .clock_known = false,
                                           .clock_kept = {},
                                           .former_device = {},
                                           .house_words = {},
                                           .kept = {},
                                           .gaps = {},
                                           .gaps_version = 0,
                                           .altered_parts = {},
                                           .unsigned_after = {}});
}

// Keys are made after the file. Where they are and it is not, it was lost, and beginning anew would hide that.
Result<void> not_lost(const fs::path& folder, const fs::path& file, Disk& disk) {
    const auto journal = look_at_file(file, disk);
    if (!journal) return refused(journal.error());
    const auto keys = look_at_file(folder / "keys", disk);
    if (!keys) return refused(keys.error());
    if ((*journal && (*journal)->size > 0) || !*keys) return {};
    return refused({.what = "The journal is missing or empty, and its keys are still here.",
                    .where = file.string(),
                    .what_to_do = "Put journal.db back from a backup, or choose another data folder. Nothing was "
                                  "written.",
                    .kind = ProblemKind::Unreadable});
}

std::unique_ptr<WatchedDisk> watched(const Opening& opening) {
    return std::make_unique<WatchedDisk>(opening.disk == nullptr ? system_disk() : *opening.disk);
}

fs::path file_of(const Opening& opening) {
    return opening.file.empty() ? opening.folder / "journal.db" : opening.file;
}

std::string vfs_of(const Opening& opening, const Disk& disk) {
    return opening.vfs.empty() ? disk.vfs() : opening.vfs;
}

}  // namespace

Result<Journal> Journal::open_to_write(Opening opening) {
    auto disk = watched(opening);
    if (auto made = make_folder(opening.folder, *disk); !made) return refused(made.error());
    const auto marker = read_restore_marker(opening.folder, *disk);
    if (!marker) return refused(marker.error());
    if (auto fine = not_half_restored(*marker, opening.folder); !fine) return refused(fine.error());
    auto lock = WriterLock::taken(opening.folder / "writer.lock", *disk, opening.patience_ms);
    if (!lock) return refused(lock.error());
    const fs::path file = opening.folder / "journal.db";
    if (auto there = not_lost(opening.folder, file, *disk); !there) return refused(there.error());
    const std::string log = log_as_left(opening.folder, *disk);
    auto database = Database::opened(file, vfs_of(opening, *disk), OpenFor::Writing);
    if (!database) return refused(database.error());
    const auto older = older_version(*database, file.string(), opening.steps);
    if (!older) return refused(older.error());
    if (*older)
        if (auto copied = copy_before_migration(opening, *database, **older, *disk); !copied) return refused(copied.error());
    // The file first: keys are not made beside a journal that is not ours.
    if (auto ready = set_up_for_writing(*database, file.string(), opening.steps); !ready)
        return refused(ready.error());
    auto keys = Keys::open_or_make(opening.folder, opening.random, opening.company, opening.wall_ms,
                                   *disk, opening.sealing_key);
    if (!keys) return refused(keys.error());
    if (!opening.sealing_key.empty() && !keys->sealed_by_pin()) {
        // The first PIN was set and a crash kept the open keys; they are taken away now.
        if (auto done = keys->write_sealed(opening.sealing_key, opening.random); !done) return refused(done.error());
        if (auto done = keys->drop_unsealed(opening.sealing_key); !done) return refused(done.error());
    }
    auto inside = std::make_unique<Inside>(Inside{.opening = std::move(opening),
                                                  .disk = std::move(disk),
                                                  .keys = std::move(*keys),
                                                  .lock = std::move(*lock),
                                                  .database = std::move(*database),
                                                  .device = {},
                                                  .head = {},
                                                  .clock = {},
                                                  .read_only_because = {},
                                                  .clock_known = false,
                                                  .clock_kept = {},
                                                  .former_device = {},
                                                  .house_words = {},
                                                  .kept = {},
                                                  .gaps = {},
                                                  .gaps_version = 0,
                                                  .altered_parts = {},
                                                  .unsigned_after = {}});
    if (auto found = inside->find_head(); !found) return refused(found.error());
    // An erasure that a crash cut short is finished now; not in a file that somebody altered.
    const auto erased = inside->erased_customers();
    if (!erased) return refused(erased.error());
    std::vector<std::string> left;
    for (const std::string& customer : *erased) {
        if (inside->read_only_because.empty() && inside->keys.customer(customer)) left.push_back(customer);
    }
    if (!left.empty()) {
        if (auto done = inside->forget_rest_of(left); !done) return refused(done.error());
    }
    // Who restores goes back on purpose.
    const auto lost = *marker || !inside->read_only_because.empty() ? std::nullopt : inside->entries_lost();
    Journal journal{std::move(inside)};
    if (lost)
        if (auto done = journal.go_on_after_loss(*lost, log); !done) return refused(done.error());
    if (*marker)
        if (auto done = journal.go_on_after_restore((*marker)->predecessor, (*marker)->erased); !done) return refused(done.error());
    return journal;
}

Result<void> Journal::go_on_after_restore(const std::string& predecessor, const std::vector<std::string>& erased) {
    const std::int64_t wall_ms = inside_->opening.wall_ms;
    if (inside_->head.seq > 0) {
        if (auto done = become_new_device(wall_ms); !done) return done;
    } else {
        inside_->former_device = predecessor;
        if (auto done = append({.wall_ms = wall_ms, .customer = {}, .drafts = {}}); !done) return refused(done.error());
    }
    for (const std::string& customer : erased)
        if (auto done = erase_again(customer, wall_ms); !done) return done;
    return remove_restore_marker(inside_->opening.folder, *inside_->disk);
}

Result<Journal> Journal::open_copy(Opening opening, Keys keys) {
    auto disk = watched(opening);
    const fs::path file = file_of(opening);
    auto database = Database::opened(file, vfs_of(opening, *disk), OpenFor::Reading);
    if (!database) return refused(database.error());
    if (auto fine = check_for_reading(*database, file.string(), opening.steps); !fine) return refused(fine.error());
    auto inside = read_only<Inside>(std::move(opening), std::move(disk), std::move(keys), std::move(*database),
                                    "This is a copy.");
    if (auto found = inside->find_head(); !found) return refused(found.error());
    return Journal{std::move(inside)};
}

Result<Journal> Journal::open_to_read(Opening opening) {
    auto disk = watched(opening);
    const auto marker = read_restore_marker(opening.folder, *disk);
    if (!marker) return refused(marker.error());
    if (auto fine = not_half_restored(*marker, opening.folder); !fine) return refused(fine.error());
    const fs::path file = opening.folder / "journal.db";
    const auto there = look_at_file(file, *disk);
    if (!there) return refused(there.error());
    if (!*there) {
        return refused({.what = "There is no journal in this folder yet.",
                        .where = opening.folder.string(),
                        .what_to_do = "Open a first job, or choose the right data folder.",
                        .kind = ProblemKind::Unreadable});
    }
    auto database = Database::opened(file, vfs_of(opening, *disk), OpenFor::Reading);
    if (!database) return refused(database.error());
    if (auto fine = check_for_reading(*database, file.string(), opening.steps); !fine)
        return refused(fine.error());
    auto keys = Keys::open(opening.folder, *disk, opening.sealing_key);
    if (!keys) return refused(keys.error());
    auto inside = read_only<Inside>(std::move(opening), std::move(disk), std::move(*keys), std::move(*database),
                                    "This journal was opened for reading only.");
    if (auto found = inside->find_head(); !found) return refused(found.error());
    if (!*marker) inside->lost_at_opening = inside->entries_lost();
    return Journal{std::move(inside)};
}

Result<void> Journal::Inside::find_head() {
    device = digest::device_id(keys.device().public_key);
    head = {device, 0, record::no_hash()};
    clock = {};
    const auto last = read_rows("WHERE device = ?1 ORDER BY seq DESC, hash DESC LIMIT 1",
                                [&](Statement& s) { s.bind(1, device); });
    if (!last) return refused(last.error());
    if (!last->damaged.empty()) {
        if (read_only_because.empty()) {
            read_only_because =
                "The last entry of this device is damaged: " + last->damaged.front();
        }
    } else if (!last->entries.empty()) {
        const record::Written& written = last->entries.front();
        head = {device, written.entry.seq, written.hash};
        clock = record::stamp_of(written.entry.time).value_or(record::Stamp{});
    }
    auto altered = altered_tables(database, opening.steps);
    if (!altered) return refused(altered.error());
    altered_parts = std::move(*altered);
    if (read_only_because.empty() && !altered_parts.empty()) read_only_because = altered_parts.front();
    return compare_with_signed_head();
}

// The head is signed in the same transaction as the entries it closes: with another one the file was altered or set back
// outside this program, and going on would bury that.
Result<void> Journal::Inside::compare_with_signed_head() {
    if (!read_only_because.empty()) return {};
    auto find = database.prepared("SELECT seq, hash FROM head WHERE device = ?1 ORDER BY seq DESC, hash LIMIT 1");
    if (!find) return refused(find.error());
    const auto row = find->bind(1, device).step();
    if (!row) return refused(row.error());
    if (!*row) {
        if (head.seq > 0) read_only_because = "The signed head of this device is missing.";
        return {};
    }
    const auto seq = find->number(0);
    find->reset();
    auto own = database.prepared("SELECT public_key, signature FROM head WHERE device = ?1 AND seq = ?2 AND hash = ?3");
    if (!own) return refused(own.error());
    const auto signed_row = own->bind(1, device).bind(2, head.seq).bind(3, head.hash).step();
    if (!signed_row) return refused(signed_row.error());
    if (seq > head.seq) {
        read_only_because = fmt::format(
            "This device had signed entry {}, and the last one here is {}: the journal was set back or altered.", seq,
            head.seq);
    } else if (!*signed_row || !record::is_genuine({head, own->text(0), own->text(1)})) {
        read_only_because = fmt::format(
            "This device did not sign entry {}, its last one here: somebody else wrote it into the file, or altered it.", head.seq);
    }
    return {};
}

Problem Journal::Inside::remembered(Problem problem) {
    if (database.trouble() == Trouble::DiskBroken || database.trouble() == Trouble::FileBroken) {
        // What the kernel could not sync it may have dropped: nothing after it can be trusted.
        read_only_because = problem.what;
    }
    return problem;
}

Result<void> Journal::Inside::may_write() const {
    if (disk->sync_failed() || database.sync_was_lost()) {
        return refused({.what = "Nothing more is written into this journal: the disk once failed to keep "
                                "what it was given.",
                        .where = opening.folder.string(),
                        .what_to_do = "Close the program, look after the disk, and open it again.",
                        .kind = ProblemKind::NotStored});
    }
    if (is_half_way) {
        return refused({.what = "Nothing more is written into this journal: the last writing was cut short, as where memory ends.",
                        .where = opening.folder.string(),
                        .what_to_do = "What was saved is safe. Close the program and open it again.",
                        .kind = ProblemKind::NotStored});
    }
    if (read_only_because.empty()) return {};
    return refused({.what = "Nothing more is written into this journal. " + read_only_because,
                    .where = opening.folder.string(),
                    .what_to_do = "Close the program, look after the disk, and open it again.",
                    .kind = ProblemKind::NotStored});
}

record::DeviceStarted Journal::Inside::start_of_device(std::string predecessor,
                                                       const digest::DeviceKey& key) const {
    record::DeviceStarted started;
    started.device = digest::device_id(key.public_key);
    started.predecessor = std::move(predecessor);
    started.public_key = digest::to_hex(key.public_key);
    if (const auto& company = keys.company()) {
        const std::string claim = record::device_claim(started.device, key.public_key);
        if (const auto signature = digest::sign_as_company(*company, claim)) {
            started.root_certificate = digest::to_hex(company->root_certificate);
            started.company_signature = digest::to_hex(*signature);
        }
    }
    return started;
}

Result<void> Journal::Inside::write_entries(const std::vector<record::Written>& entries) {
    auto insert = database.prepared("INSERT INTO entry VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)");
    if (!insert) return refused(insert.error());
    for (const auto& [entry, hash] : entries) {
        const auto body = record::body_text(entry.body);
        if (!body) return refused(body.error());
        insert->bind(1, entry.device).bind(2, entry.seq).bind(3, entry.prev).bind(4, hash);
        insert->bind(5, entry.time).bind(6, entry.job).bind(7, *body);
        if (auto done = insert->run(); !done) return done;
    }
    return {};
}

Result<void> Journal::Inside::write_head(const record::SignedHead& signed_head) {
    auto insert = database.prepared("INSERT OR IGNORE INTO head VALUES (?1, ?2, ?3, ?4, ?5)");
    if (!insert) return refused(insert.error());
    insert->bind(1, signed_head.head.device).bind(2, signed_head.head.seq);
    insert->bind(3, signed_head.head.hash).bind_blob(4, signed_head.public_key);
    if (auto done = insert->bind_blob(5, signed_head.signature).run(); !done) return done;
    // One that is continued is signed with what continues it; the ends of a fork each keep their own.
    auto drop = database.prepared(
        "DELETE FROM head WHERE device = ?1 AND EXISTS (SELECT 1 FROM entry WHERE entry.device = head.device AND "
        "entry.seq = head.seq + 1 AND entry.prev = head.hash)");
    if (!drop) return refused(drop.error());
    return drop->bind(1, signed_head.head.device).run();
}

Result<std::vector<record::Written>> Journal::Inside::write_drafts(
    const record::Head& after, const record::Stamp& first, std::vector<record::Draft> drafts) {
    auto written = record::chained(after, record::text_of(first), std::move(drafts));
    if (!written || written->empty()) return written;
    if (auto done = write_entries(*written); !done) return refused(done.error());
    const record::Written& last = written->back();
    const record::Head now{last.entry.device, last.entry.seq, last.hash};
    if (auto done = write_head(record::signed_head(now, keys.device())); !done) {
        return refused(done.error());
    }
    return written;
}

Result<void> Journal::Inside::commit(Transaction& transaction, const std::vector<record::Written>& written) {
    HalfWay half_way{is_half_way};
    auto done = transaction.commit();
    if (done) advance(written);
    else done = refused(remembered(done.error()));
    half_way.over();
    if (done && !written.empty()) keep_head();
    return done;
}

void Journal::Inside::advance(const std::vector<record::Written>& written) {
    if (written.empty()) return;
    const record::Entry& last = written.back().entry;
    if (device != last.device) source_told.reset();
    device = last.device;
    head = {last.device, last.seq, written.back().hash};
    clock = record::stamp_of(last.time).value_or(clock);
}

Result<std::vector<record::Written>> Journal::append(Intent intent) {
    if (auto fine = inside_->may_write(); !fine) return refused(fine.error());
    const auto watch = inside_->watch_clock(intent.wall_ms);
    if (!watch) return refused(watch.error());
    auto transaction = Transaction::begun(inside_->database);
    if (!transaction) return refused(inside_->remembered(transaction.error()));
    const bool is_first = inside_->head.seq == 0;
    const int told = put_told_into(intent.drafts, *watch);
    if (is_first) intent.drafts.insert(intent.drafts.begin(), {"", inside_->start_of_device(inside_->former_device, inside_->keys.device())});
    const auto failed = [&](const Problem& problem) {
        return refused(inside_->remembered(problem));
    };
    if (auto done = inside_->write_words(intent.customer, intent.drafts); !done)
        return failed(done.error());
    if (auto done = inside_->write_attachments(intent.drafts); !done) return failed(done.error());
    auto written =
        inside_->write_drafts(inside_->head, record::next_stamp(inside_->clock, intent.wall_ms),
                              std::move(intent.drafts));
    if (!written) return failed(written.error());
    if (auto done = inside_->commit(*transaction, *written); !done) return refused(done.error());
    inside_->clock_told(*watch);
    inside_->house_words.clear();
    for (const auto& [entry, hash] : *written) {
        for (const record::Attached* file : record::attached_in(entry.body))
            inside_->kept.erase(file->id);
    }
    written->erase(written->begin(), written->begin() + (is_first ? 1 : 0) + told);
    return written;
}

Result<void> Journal::become_new_device(std::int64_t wall_ms) {
    if (auto fine = inside_->may_write(); !fine) return fine;
    return inside_->start_new_device(wall_ms);
}

Result<void> Journal::Inside::start_new_device(std::int64_t wall_ms) {
    auto key = digest::device_key(opening.random(digest::box_key_bytes));
    if (!key) return refused(key.error());
    auto transaction = Transaction::begun(database);
    if (!transaction) return refused(remembered(transaction.error()));
    const record::DeviceStarted started =
        start_of_device(digest::device_id(keys.device().public_key), *key);
    const auto written =
        record::chained({started.device, 0, record::no_hash()},
                        record::text_of(record::next_stamp(clock, wall_ms)), {{"", started}});
    if (!written) return refused(written.error());
    if (auto done = write_entries(*written); !done) return refused(remembered(done.error()));
    const record::Head now{started.device, 1, written->back().hash};
    if (auto done = write_head(record::signed_head(now, *key)); !done)
        return refused(remembered(done.error()));
    if (auto done = transaction->commit(); !done) return refused(remembered(done.error()));
    // The key last: until it is in place the old device goes on, and nothing is signed by the wrong one.
    HalfWay half_way{is_half_way};
    auto done = keys.take_device(std::move(*key), opening.random);
    if (done) advance(*written);
    half_way.over();
    return done;
}

Result<void> Journal::put_person(const Person& person, std::string_view pin, const digest::PinCost& cost) {
    if (auto fine = inside_->may_write(); !fine) return fine;
    auto people = People::read(inside_->opening.folder, *inside_->disk);
    if (!people) return refused(people.error());
    Keys& keys = inside_->keys;
    if (keys.sealed_by_pin()) return people->put(person, pin, keys.sealing_key(), inside_->opening.random, cost);
    if (!people->empty()) {
        return refused({.what = "The first PIN was set, and this program still works with the open keys.",
                        .where = inside_->opening.folder.string(),
                        .what_to_do = "Close it and open it again with that PIN.",
                        .kind = ProblemKind::Refused});
    }
    // Sealed beside the open ones, then the way to the sealing key, then the open ones away: whatever is
    // cut short, some key of the device can be opened.
    const std::string sealing_key = inside_->opening.random(digest::box_key_bytes);
    if (auto done = keys.write_sealed(sealing_key, inside_->opening.random); !done) return done;
    if (auto done = people->put(person, pin, sealing_key, inside_->opening.random, cost); !done) return done;
    if (auto done = keys.drop_unsealed(sealing_key); !done) return done;
    // The copies made before lie beside the master key as it was: with it they would open without a PIN.
    const auto open_key = look_at_file(inside_->backups() / "keys" / "master.key", *inside_->disk);
    if (!open_key) return refused(open_key.error());
    if (!*open_key) return {};
    return keys.back_up_into(inside_->backups(), "", inside_->opening.random);
}

Result<void> Journal::remove_person(std::string_view name) {
    if (auto fine = inside_->may_write(); !fine) return fine;
    auto people = People::read(inside_->opening.folder, *inside_->disk);
    if (!people) return refused(people.error());
    return people->remove(name);
}

Result<std::vector<Person>> Journal::people() const {
    auto people = People::read(inside_->opening.folder, *inside_->disk);
    if (!people) return refused(people.error());
    return people->all();
}

namespace {

digest::BoxKey cache_key(std::string key, std::string_view name) {
    return {std::move(key), fmt::format("cache {}", name)};
}

}  // namespace

std::optional<Cached> Journal::cache(std::string_view name) const {
    auto find = inside_->database.prepared("SELECT made_from, body FROM cache WHERE name = ?1");
    if (!find) return std::nullopt;
    find->bind(1, name);
    const auto row = find->step();
    if (!row || !*row) return std::nullopt;
    auto key = inside_->keys.customer(inside_->keys.house());
    const auto box = digest::from_hex(find->text(1));
    if (!key || !box) return std::nullopt;
    auto body = digest::unlock(cache_key(std::move(*key), name), *box, "cache");
    if (!body) return std::nullopt;
    return Cached{find->text(0), std::move(*body)};
}

Result<void> Journal::put_cache(std::string_view name, const Cached& cached) {
    if (auto fine = inside_->may_write(); !fine) return fine;
    auto key = inside_->keys.customer(inside_->keys.house());
    if (!key) return {};  // nothing to lock it with: it is made again each time
    const auto box = digest::lock(cache_key(std::move(*key), name),
                                  inside_->opening.random(digest::box_nonce_bytes), cached.body);
    if (!box) return refused(box.error());
    auto put = inside_->database.prepared("INSERT OR REPLACE INTO cache VALUES (?1, ?2, ?3)");
    if (!put) return refused(put.error());
    return put->bind(1, name).bind(2, cached.made_from).bind(3, digest::to_hex(*box)).run();
}

Result<void> Journal::drop_caches() {
    if (auto fine = inside_->may_write(); !fine) return fine;
    return inside_->database.run("DELETE FROM cache");
}

}  // namespace wm::store
