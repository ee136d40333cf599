// Taking in what another device wrote; the rest of journal.hpp.
#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>

#include "digest/hash.hpp"
#include "store/inside.hpp"
#include "store/rows.hpp"

namespace wm::store {
namespace {

using record::Written;

/// The entries of the table, looked up one by one.
KnownEntries known_in(const Database& database) {
    return {.time_of = [&database](const record::Head& entry) -> Result<std::optional<std::string>> {
                auto find = database.prepared("SELECT time FROM entry WHERE device = ?1 AND seq = ?2 AND hash = ?3");
                if (!find) return refused(find.error());
                const auto row = find->bind(1, entry.device).bind(2, entry.seq).bind(3, entry.hash).step();
                if (!row) return refused(row.error());
                if (!*row) return std::nullopt;
                return find->text(0);
            },
            .last_before = [&database](const std::string& device, std::int64_t seq) -> Result<std::int64_t> {
                auto find = database.prepared("SELECT max(seq) FROM entry WHERE device = ?1 AND seq < ?2");
                if (!find) return refused(find.error());
                const auto row = find->bind(1, device).bind(2, seq).step();
                if (!row) return refused(row.error());
                return *row ? find->number(0) : 0;
            }};
}

record::Stamp latest_stamp(const std::vector<Written>& entries, record::Stamp clock,
                           std::int64_t wall_ms) {
    for (const Written& written : entries) {
        if (const auto stamp = record::stamp_of(written.entry.time)) {
            clock = record::after_seeing(clock, *stamp, wall_ms);
        }
    }
    return clock;
}

}  // namespace

Result<void> Journal::Inside::take_files(const Foreign& foreign,
                                         const std::set<std::string>& erased) {
    for (const LockedFile& file : foreign.files) {
        if (erased.contains(file.customer)) continue;
        const auto there = look_at_file(file_of(file.id), *disk);
        if (!there) return refused(there.error());
        if (*there) continue;
        if (auto done = write_file(file_of(file.id), file.bytes, *disk); !done) return done;
    }
    std::map<std::string, std::string, std::less<>> fresh_keys;
    for (const auto& [customer, key] : foreign.customer_keys) {
        if (!erased.contains(customer) && !keys.customer(customer) &&
            key.size() == digest::box_key_bytes) {
            fresh_keys.emplace(customer, key);
        }
    }
    if (fresh_keys.empty()) return {};
    return keys.add_customers(fresh_keys, opening.random);
}

Result<void> Journal::Inside::take_rows(const Foreign& foreign, const std::vector<Written>& fresh,
                                        const std::set<std::string>& erased) {
    if (auto done = write_entries(fresh); !done) return done;
    std::vector<LockedWords> words;
    std::copy_if(foreign.words.begin(), foreign.words.end(), std::back_inserter(words),
                 [&](const LockedWords& each) { return !erased.contains(each.customer); });
    if (auto done = write_locked(words); !done) return done;
    auto insert = database.prepared("INSERT OR IGNORE INTO attachment VALUES (?1, ?2)");
    if (!insert) return refused(insert.error());
    for (const LockedFile& file : foreign.files) {
        if (erased.contains(file.customer)) continue;
        if (auto done = insert->bind(1, file.id).bind(2, file.customer).run(); !done) return done;
    }
    for (const record::SignedHead& theirs : foreign.heads) {
        const record::Head& last = theirs.head;
        if (last.device == device && last.seq <= head.seq) continue;
        const auto here = is_stored(last);
        if (!here) return refused(here.error());
        if (!*here) continue;
        if (auto done = write_head(theirs); !done) return done;
    }
    for (const std::string& customer : erased) {
        if (auto done = forget_rows_of(customer); !done) return done;
    }
    return {};
}

Result<bool> Journal::Inside::is_stored(const record::Head& entry) const {
    auto find =
        database.prepared("SELECT 1 FROM entry WHERE device = ?1 AND seq = ?2 AND hash = ?3");
    if (!find) return refused(find.error());
    return find->bind(1, entry.device).bind(2, entry.seq).bind(3, entry.hash).step();
}

Result<Merged> Journal::merge(Foreign foreign, std::int64_t wall_ms) {
    if (auto fine = inside_->may_write(); !fine) return refused(fine.error());
    if (auto fine = check_content(foreign); !fine) return refused(fine.error());
    auto erased = inside_->erased_customers();
    if (!erased) return refused(erased.error());
    std::vector<std::string> newly_erased;
    for (const Written& written : foreign.entries) {
        const auto* gone = std::get_if<record::CustomerErased>(&written.entry.body);
        if (gone != nullptr && erased->insert(gone->customer).second)
            newly_erased.push_back(gone->customer);
    }
    auto join = joined(std::move(foreign.entries), known_in(inside_->database));
    if (!join) return refused(join.error());
    std::vector<Written>& fresh = join->fresh;
    if (auto done = inside_->take_files(foreign, *erased); !done) return refused(done.error());

    const auto watch = inside_->watch_clock(wall_ms);
    if (!watch) return refused(watch.error());
    auto transaction = Transaction::begun(inside_->database);
    if (!transaction) return refused(inside_->remembered(transaction.error()));
    if (auto done = inside_->take_rows(foreign, fresh, *erased); !done) {
        return refused(inside_->remembered(done.error()));
    }
    Merged merged{{}, join->known, {}};
    const bool is_our_future = std::any_of(
        fresh.begin(), fresh.end(),
        [&](const Written& written) { return written.entry.device == inside_->device; });
    inside_->clock = latest_stamp(fresh, inside_->clock, wall_ms);
    std::vector<Written> ours;
    if (!fresh.empty() && !is_our_future) {
        auto received = inside_->received_draft();
        if (!received) return refused(inside_->remembered(received.error()));
        std::vector<record::Draft> drafts;
        if (inside_->head.seq == 0) drafts.push_back({"", inside_->start_of_device({}, inside_->keys.device())});
        put_told_into(drafts, *watch);
        drafts.push_back(std::move(*received));
        auto written = inside_->write_drafts(
            inside_->head, record::next_stamp(inside_->clock, wall_ms), std::move(drafts));
        if (!written) return refused(inside_->remembered(written.error()));
        ours = std::move(*written);
    }
    // Until this folder has another name, a next entry would stand beside those that were just taken.
    std::optional<HalfWay> half_way;
    if (is_our_future) half_way.emplace(inside_->is_half_way);
    if (auto done = inside_->commit(*transaction, ours); !done) {
        if (half_way) half_way->over();
        return refused(done.error());
    }
    if (!ours.empty()) inside_->clock_told(*watch);
    if (is_our_future) {
        // Somebody wrote on under our name: this folder is a copy or was set back.
        const auto started = inside_->start_new_device(wall_ms);
        half_way->over();
        half_way.reset();
        if (!started) {
            inside_->read_only_because = "Another copy of this folder wrote on, and no new device could be started.";
            return refused(started.error());
        }
        auto received = inside_->received_draft();
        if (!received) return refused(received.error());
        std::vector<record::Draft> drafts;
        drafts.push_back(std::move(*received));
        auto written = append({.wall_ms = wall_ms, .customer = {}, .drafts = std::move(drafts)});
        if (!written) return refused(written.error());
    }
    if (!newly_erased.empty()) {
        if (auto done = inside_->forget_rest_of(newly_erased); !done) return refused(done.error());
    }
    merged.forks = inside_->forks_among(fresh);
    merged.fresh = std::move(fresh);
    if (auto filled = inside_->fill_in_words(merged.fresh); !filled) return refused(filled.error());
    return merged;
}

Result<record::Draft> Journal::Inside::received_draft() const {
    record::Received received;
    auto select = database.prepared(
        "SELECT device, seq, hash FROM entry AS last WHERE device <> ?1 AND NOT EXISTS (SELECT 1 "
        "FROM "
        "entry AS next WHERE next.device = last.device AND next.seq = last.seq + 1 AND "
        "next.prev = last.hash) ORDER BY device, seq, hash");
    if (!select) return refused(select.error());
    select->bind(1, digest::device_id(keys.device().public_key));
    auto row = select->step();
    for (; row && *row; row = select->step()) {
        received.heads.push_back({select->text(0), select->number(1), select->text(2)});
    }
    if (!row) return refused(row.error());
    return record::Draft{"", std::move(received)};
}

std::vector<record::Fork> Journal::Inside::forks_among(const std::vector<Written>& fresh) const {
    std::vector<record::Fork> forks;
    auto find =
        database.prepared("SELECT hash FROM entry WHERE device = ?1 AND seq = ?2 ORDER BY hash");
    if (!find) return forks;
    for (const Written& written : fresh) {
        record::Fork fork{written.entry.device, written.entry.seq, {}};
        find->bind(1, fork.device).bind(2, fork.seq);
        for (auto row = find->step(); row && *row; row = find->step())
            fork.hashes.push_back(find->text(0));
        if (fork.hashes.size() > 1 && std::find(forks.begin(), forks.end(), fork) == forks.end()) {
            forks.push_back(std::move(fork));
        }
    }
    return forks;
}

}  // namespace wm::store
