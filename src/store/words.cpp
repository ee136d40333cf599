// Words and files of persons: locked, filled in again, forgotten. The rest of journal.hpp.
#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>

#include "digest/hash.hpp"
#include "store/backup.hpp"
#include "store/inside.hpp"

namespace wm::store {
namespace {

digest::BoxKey words_key(std::string key, std::string_view commitment) {
    return {std::move(key), fmt::format("words {}", commitment)};
}

digest::BoxKey file_key(std::string key) {
    return {std::move(key), "file"};
}

tl::unexpected<Problem> no_key(std::string_view customer) {
    return refused(
        {.what = "The key of this customer is not here: it was erased, or the bundle came "
                 "without its passphrase.",
         .where = fmt::format("customer {}", customer),
         .what_to_do = "Nothing personal can be read or added. Ask the device that made the "
                       "bundle for one with a passphrase, or open a new job.",
         .kind = ProblemKind::Refused});
}

}  // namespace

Result<std::string> Journal::new_customer() {
    if (auto fine = inside_->may_write(); !fine) return refused(fine.error());
    std::string id = digest::to_hex(inside_->opening.random(16));
    const auto added = inside_->keys.add_customers(
        {{id, inside_->opening.random(digest::box_key_bytes)}}, inside_->opening.random);
    if (!added) return refused(added.error());
    return id;
}

Result<record::Attached> Journal::keep(std::string_view customer, std::string_view bytes,
                                       std::string_view media_type, std::string_view fingerprint) {
    if (auto fine = inside_->may_write(); !fine) return refused(fine.error());
    const std::string owner = inside_->owner_of(customer);
    auto key = inside_->keys.customer(owner);
    if (!key) return no_key(customer);
    const auto box = digest::lock(file_key(std::move(*key)),
                                  inside_->opening.random(digest::box_nonce_bytes), bytes);
    if (!box) return refused(box.error());
    record::Attached attached{digest::sha256_hex(*box), std::string{media_type},
                              std::string{fingerprint}, std::nullopt};
    if (auto done = write_file(inside_->file_of(attached.id), *box, *inside_->disk); !done)
        return refused(done.error());
    inside_->kept[attached.id] = owner;
    return attached;
}

Result<std::string> Journal::attachment(std::string_view id) const {
    std::string customer;
    if (const auto kept = inside_->kept.find(std::string{id}); kept != inside_->kept.end()) {
        customer = kept->second;
    } else {
        auto find = inside_->database.prepared("SELECT customer FROM attachment WHERE id = ?1");
        if (!find) return refused(find.error());
        const auto row = find->bind(1, id).step();
        if (!row) return refused(row.error());
        if (!*row) {
            return refused({.what = "This attachment was erased, or was never here.",
                            .where = fmt::format("attachment {}", id),
                            .what_to_do =
                                "Nothing can bring back what was erased. If it was not, take "
                                "the bundle of the device that has it.",
                            .kind = ProblemKind::Unreadable});
        }
        customer = find->text(0);
    }
    auto key = inside_->keys.customer(customer);
    if (!key) return no_key(customer);
    const auto path = inside_->file_of(id);
    const auto box = read_file(path, *inside_->disk);
    if (!box) return box;
    if (digest::sha256_hex(*box) != id) {
        return refused(
            {.what = "This attachment was changed after it was stored.",
             .where = path.string(),
             .what_to_do = "Restore the file from a copy; its name is the SHA-256 of its content.",
             .kind = ProblemKind::Unreadable});
    }
    return digest::unlock(file_key(std::move(*key)), *box, path.string());
}

Result<void> Journal::Inside::write_locked(const std::vector<LockedWords>& words) {
    auto insert = database.prepared("INSERT OR IGNORE INTO personal VALUES (?1, ?2, ?3)");
    if (!insert) return refused(insert.error());
    for (const LockedWords& each : words) {
        insert->bind(1, each.commitment).bind(2, each.customer).bind_blob(3, each.box);
        if (auto done = insert->run(); !done) return done;
    }
    return {};
}

Result<LockedWords> Journal::Inside::locked_words(const std::string& owner, const std::string& key,
                                                  std::string_view words) const {
    LockedWords locked{digest::to_hex(digest::hmac_sha256(key, words)), owner, {}};
    auto box = digest::lock(words_key(key, locked.commitment), opening.random(digest::box_nonce_bytes), words);
    if (!box) return refused(box.error());
    locked.box = std::move(*box);
    return locked;
}

Result<record::Personal> Journal::said_by_house(std::string_view words) {
    if (auto fine = inside_->may_write(); !fine) return refused(fine.error());
    const std::string house = inside_->keys.house();
    const auto key = inside_->keys.customer(house);
    if (!key) return no_key(house);
    auto locked = inside_->locked_words(house, *key, words);
    if (!locked) return refused(locked.error());
    record::Personal said{locked->commitment, std::string{words}};
    inside_->house_words.push_back(std::move(*locked));
    return said;
}

Result<bool> Journal::is_of_house(const record::Personal& words) const {
    auto find = inside_->database.prepared("SELECT customer FROM personal WHERE commitment = ?1");
    if (!find) return refused(find.error());
    const auto row = find->bind(1, words.commitment).step();
    if (!row) return refused(row.error());
    return *row && find->text(0) == inside_->keys.house();
}

Result<void> Journal::Inside::write_words(std::string_view customer,
                                          std::vector<record::Draft>& drafts) {
    const std::string owner = owner_of(customer);
    std::vector<LockedWords> locked = house_words;
    for (record::Draft& draft : drafts) {
        for (record::Personal* words : record::personal_in(draft.body)) {
            if (!words->commitment.empty() || !words->text) continue;
            const auto key = keys.customer(owner);
            if (!key) return no_key(customer);
            auto box = locked_words(owner, *key, *words->text);
            if (!box) return refused(box.error());
            words->commitment = box->commitment;
            locked.push_back(std::move(*box));
        }
    }
    return write_locked(locked);
}

Result<void> Journal::Inside::write_attachments(const std::vector<record::Draft>& drafts) {
    auto insert = database.prepared("INSERT OR IGNORE INTO attachment VALUES (?1, ?2)");
    if (!insert) return refused(insert.error());
    for (const record::Draft& draft : drafts) {
        for (const record::Attached* file : record::attached_in(draft.body)) {
            const auto customer = kept.find(file->id);
            if (customer == kept.end()) continue;
            if (auto done = insert->bind(1, file->id).bind(2, customer->second).run(); !done)
                return done;
        }
    }
    return {};
}

Result<void> fill_in_words(std::vector<record::Written>& entries, const FindWords& find, const Keys& keys, WordDoubts* doubts) {
    const auto noted = [](std::vector<std::string>& list, const record::Written& written, std::string_view what) {
        list.push_back(fmt::format("device {}, entry {}: words of a person {}.", written.entry.device, written.entry.seq, what));
    };
    std::map<std::string, std::string> customer_of;
    for (const record::Written& written : entries)
        if (const auto* opened = std::get_if<record::JobOpened>(&written.entry.body)) customer_of.emplace(opened->number, opened->customer);
    for (record::Written& written : entries) {
        for (record::Personal* words : record::personal_in(written.entry.body)) {
            const auto locked = find(words->commitment);
            if (!locked) return refused(locked.error());
            if (!*locked) {
                if (doubts != nullptr && !words->commitment.empty()) noted(doubts->missing, written, "are missing");
                continue;
            }
            const std::string& box = (*locked)->box;
            auto key = keys.customer((*locked)->customer);
            if (!key) {
                // Mostly it came without its key. An altered row may only name another customer than the job does.
                const auto owner = customer_of.find(written.entry.job);
                for (const std::string& candidate : {owner == customer_of.end() ? std::string{} : owner->second, keys.house()}) {
                    auto other = keys.customer(candidate);
                    if (!other) continue;
                    auto text = digest::unlock(words_key(std::move(*other), words->commitment), box, "words");
                    if (!text) continue;
                    words->text = std::move(*text);
                    if (doubts != nullptr) noted(doubts->altered, written, "lie under another's name");
                    break;
                }
                continue;
            }
            auto text = digest::unlock(words_key(std::move(*key), words->commitment), box, "words");
            if (text) words->text = std::move(*text);
            else if (doubts != nullptr) noted(doubts->altered, written, "are not those that were entered");
        }
    }
    return {};
}

Result<void> Journal::Inside::fill_in_words(std::vector<record::Written>& entries, WordDoubts* doubts) const {
    auto select = database.prepared("SELECT customer, box FROM personal WHERE commitment = ?1");
    if (!select) return refused(select.error());
    const auto find = [&](const std::string& commitment) -> Result<std::optional<LockedWords>> {
        const auto row = select->bind(1, commitment).step();
        if (!row) return refused(row.error());
        if (!*row) return std::nullopt;
        LockedWords words{commitment, select->text(0), select->text(1)};
        select->reset();
        return words;
    };
    return store::fill_in_words(entries, find, keys, doubts);
}

Result<std::vector<LockedWords>> Journal::words_of(
    const std::vector<record::Written>& entries) const {
    std::vector<LockedWords> all;
    std::set<std::string> seen;
    auto find =
        inside_->database.prepared("SELECT customer, box FROM personal WHERE commitment = ?1");
    if (!find) return refused(find.error());
    for (const record::Written& written : entries) {
        record::Body body = written.entry.body;
        for (const record::Personal* words : record::personal_in(body)) {
            if (!seen.insert(words->commitment).second) continue;
            const auto row = find->bind(1, words->commitment).step();
            if (!row) return refused(row.error());
            if (*row) all.push_back({words->commitment, find->text(0), find->text(1)});
            find->reset();
        }
    }
    return all;
}

Result<std::vector<LockedFile>> Journal::files_of(
    const std::vector<record::Written>& entries) const {
    std::vector<LockedFile> all;
    std::set<std::string> seen;
    auto find = inside_->database.prepared("SELECT customer FROM attachment WHERE id = ?1");
    if (!find) return refused(find.error());
    for (const record::Written& written : entries) {
        for (const record::Attached* file : record::attached_in(written.entry.body)) {
            if (!seen.insert(file->id).second) continue;
            const auto row = find->bind(1, file->id).step();
            if (!row) return refused(row.error());
            if (!*row) continue;
            std::string customer = find->text(0);
            find->reset();
            auto bytes = read_file(inside_->file_of(file->id), *inside_->disk);
            if (!bytes) return refused(bytes.error());
            all.push_back({file->id, std::move(customer), std::move(*bytes)});
        }
    }
    return all;
}

namespace {

Result<std::set<std::string>> rows_of_erased(const Database& database) {
    std::set<std::string> all;
    auto find = database.prepared("SELECT customer FROM erased");
    if (!find) return refused(find.error());
    auto row = find->step();
    for (; row && *row; row = find->step()) all.insert(find->text(0));
    if (!row) return refused(row.error());
    return all;
}

}  // namespace

Result<std::set<std::string>> Journal::Inside::erased_customers() const {
    auto marked = rows_of_erased(database);
    if (!marked || marked->empty()) return marked;
    const auto entries = read_rows(fmt::format("{} WHERE job = '' AND body LIKE '%\"kind\":\"customer-erased\"}}'", by_job()), [](Statement&) {});
    if (!entries) return refused(entries.error());
    std::set<std::string> all;
    for (const record::Written& written : entries->entries)
        if (const auto* gone = std::get_if<record::CustomerErased>(&written.entry.body); gone != nullptr && marked->contains(gone->customer))
            all.insert(gone->customer);
    return all;
}

Result<std::vector<std::string>> Journal::Inside::erased_without_entry() const {
    auto marked = rows_of_erased(database);
    if (!marked) return refused(marked.error());
    const auto obeyed = erased_customers();
    if (!obeyed) return refused(obeyed.error());
    std::vector<std::string> alone;
    std::set_difference(marked->begin(), marked->end(), obeyed->begin(), obeyed->end(), std::back_inserter(alone));
    return alone;
}

Result<void> Journal::Inside::forget_rows_of(const std::string& customer) {
    for (const char* sql :
         {"DELETE FROM personal WHERE customer = ?1", "INSERT OR IGNORE INTO erased VALUES (?1)"}) {
        auto statement = database.prepared(sql);
        if (!statement) return refused(statement.error());
        if (auto done = statement->bind(1, customer).run(); !done) return done;
    }
    return {};
}

Result<void> Journal::Inside::forget_rest_of(const std::vector<std::string>& customers) {
    // The key last: as long as it is there, the next start knows that the erasure is not finished.
    std::vector<std::string> all_ids;
    for (const std::string& customer : customers) {
        std::vector<std::string> ids;
        auto find = database.prepared("SELECT id FROM attachment WHERE customer = ?1");
        if (!find) return refused(find.error());
        auto row = find->bind(1, customer).step();
        for (; row && *row; row = find->step()) ids.push_back(find->text(0));
        if (!row) return refused(row.error());
        for (const auto& [id, of] : kept) {
            if (of == customer) ids.push_back(id);
        }
        for (const std::string& id : ids) {
            if (auto done = remove_file(file_of(id), *disk); !done) return done;
            kept.erase(id);
        }
        all_ids.insert(all_ids.end(), ids.begin(), ids.end());
        auto drop = database.prepared("DELETE FROM attachment WHERE customer = ?1");
        if (!drop) return refused(drop.error());
        if (auto done = drop->bind(1, customer).run(); !done) return done;
    }
    if (auto done = database.run("DELETE FROM cache; PRAGMA wal_checkpoint(TRUNCATE)"); !done)
        return refused(remembered(done.error()));
    if (auto done = keys.erase_customers(customers, opening.random); !done) return done;
    return erase_in_backups(backups(), keys, customers, all_ids, *disk);
}

Result<void> Journal::erase_customer(std::string_view customer, std::int64_t wall_ms) {
    if (auto fine = inside_->may_write(); !fine) return fine;
    const std::string id{customer};
    if (id == inside_->keys.house() || !inside_->keys.customer(id)) return no_key(customer);
    return erase_again(id, wall_ms);
}

Result<void> Journal::erase_again(const std::string& id, std::int64_t wall_ms) {
    const auto watch = inside_->watch_clock(wall_ms);
    if (!watch) return refused(watch.error());
    auto transaction = Transaction::begun(inside_->database);
    if (!transaction) return refused(inside_->remembered(transaction.error()));
    if (auto done = inside_->forget_rows_of(id); !done)
        return refused(inside_->remembered(done.error()));
    std::vector<record::Draft> drafts;
    if (inside_->head.seq == 0) drafts.push_back({"", inside_->start_of_device({}, inside_->keys.device())});
    put_told_into(drafts, *watch);
    drafts.push_back({"", record::CustomerErased{id}});
    const auto written = inside_->write_drafts(
        inside_->head, record::next_stamp(inside_->clock, wall_ms), std::move(drafts));
    if (!written) return refused(inside_->remembered(written.error()));
    if (auto done = inside_->commit(*transaction, *written); !done) return done;
    inside_->clock_told(*watch);
    return inside_->forget_rest_of({id});
}

}  // namespace wm::store
