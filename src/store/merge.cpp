// Taking in what another device wrote; the rest of journal.hpp.
#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>
#include <tuple>
#include <unordered_map>

#include "digest/hash.hpp"
#include "record/signed_ends.hpp"
#include "store/inside.hpp"

namespace wm::store {
namespace {

using record::Entry;
using record::Written;

tl::unexpected<Problem> not_taken(std::string what, std::string to_do) {
    return refused({.what = std::move(what),
                    .where = "bundle",
                    .what_to_do = std::move(to_do),
                    .kind = ProblemKind::Refused});
}

/// Hashes, signatures and names, before anything is looked up.
Result<void> check_content(const Foreign& foreign) {
    const std::string to_do = "Nothing was taken. Have the bundle made and carried over again.";
    for (const Written& written : foreign.entries) {
        const auto hash = record::hash_of(written.entry);
        if (!hash || *hash != written.hash) {
            return not_taken(fmt::format("Entry {} of device {} is not what its hash was made of.",
                                         written.entry.seq, written.entry.device),
                             to_do);
        }
    }
    for (const record::SignedHead& head : foreign.heads) {
        if (!record::is_genuine(head)) {
            return not_taken(fmt::format("The signature of the head of device {} does not fit.",
                                         head.head.device),
                             to_do);
        }
    }
    if (const auto open = record::signed_by_nobody(foreign.entries, foreign.heads); !open.empty()) {
        return not_taken(fmt::format("Entry {} of device {} is signed by nobody.", open.front().seq, open.front().device),
                         "Nothing was taken. Ask whoever has that device for a bundle made by it.");
    }
    for (const LockedFile& file : foreign.files) {
        if (digest::sha256_hex(file.bytes) != file.id) {
            return not_taken(fmt::format("The attachment {} was changed on its way.", file.id),
                             to_do);
        }
    }
    return {};
}

/// What linking needs to know of an entry.
struct Link {
    std::string device;
    std::int64_t seq = 0;
    std::string time;
};

bool follows(const Entry& entry, const Link& before) {
    return before.device == entry.device && before.seq == entry.seq - 1 && before.time < entry.time;
}

/// Tells what of a bundle is new here, and whether every new entry continues something.
class Joining {
public:
    explicit Joining(const Database& database) : database_{database} {}

    Result<std::vector<Written>> fresh_of(std::vector<Written> entries) {
        std::sort(entries.begin(), entries.end(), [](const Written& a, const Written& b) {
            return std::tie(a.entry.device, a.entry.seq, a.hash) <
                   std::tie(b.entry.device, b.entry.seq, b.hash);
        });
        const auto same = [](const Written& a, const Written& b) { return a.hash == b.hash; };
        entries.erase(std::unique(entries.begin(), entries.end(), same), entries.end());
        std::vector<Written> fresh;
        for (Written& written : entries) {
            const Entry& entry = written.entry;
            const auto known = stored(entry.device, entry.seq, written.hash);
            if (!known) return refused(known.error());
            Link link{entry.device, entry.seq, entry.time};
            if (*known) {
                ++known_;
                links_.emplace(written.hash, std::move(link));
                continue;
            }
            if (auto joined = joins(written); !joined) return refused(joined.error());
            links_.emplace(written.hash, std::move(link));
            fresh.push_back(std::move(written));
        }
        return fresh;
    }

    [[nodiscard]] std::size_t known() const { return known_; }

private:
    Result<std::optional<Link>> stored(const std::string& device, std::int64_t seq,
                                       const std::string& hash) {
        auto find = database_.prepared(
            "SELECT time FROM entry WHERE device = ?1 AND seq = ?2 AND hash = ?3");
        if (!find) return refused(find.error());
        const auto row = find->bind(1, device).bind(2, seq).bind(3, hash).step();
        if (!row) return refused(row.error());
        if (!*row) return std::nullopt;
        return Link{device, seq, find->text(0)};
    }

    Result<void> joins(const Written& written) {
        const Entry& entry = written.entry;
        if (entry.seq == 1) {
            if (record::verify_links({&written, 1}).is_sound()) return {};
            return not_taken(
                fmt::format("The chain of device {} does not begin with its start.", entry.device),
                "Nothing was taken. Have the bundle made again by the device itself.");
        }
        std::optional<Link> before;
        if (const auto found = links_.find(entry.prev); found != links_.end())
            before = found->second;
        if (!before) {
            auto found = stored(entry.device, entry.seq - 1, entry.prev);
            if (!found) return refused(found.error());
            before = std::move(*found);
        }
        if (before && follows(entry, *before)) return {};
        if (before) {
            return not_taken(
                fmt::format("Entry {} of device {} does not follow the one it names.", entry.seq,
                            entry.device),
                "Nothing was taken. Ask the device's owner what happened to its clock.");
        }
        return missing(entry);
    }

    tl::unexpected<Problem> missing(const Entry& entry) {
        std::int64_t last = 0;
        if (auto find =
                database_.prepared("SELECT max(seq) FROM entry WHERE device = ?1 AND seq < ?2")) {
            if (const auto row = find->bind(1, entry.device).bind(2, entry.seq).step();
                row && *row) {
                last = find->number(0);
            }
        }
        if (last >= entry.seq - 1) last = entry.seq - 2;  // a fork whose beginning is not here
        return not_taken(
            fmt::format("Entries {} to {} of device {} are missing.", last + 1, entry.seq - 1,
                        entry.device),
            fmt::format("Nothing was taken. Take the earlier bundle first, or ask for one "
                        "that begins at entry {}.",
                        last + 1));
    }

    const Database& database_;
    std::unordered_map<std::string, Link> links_;
    std::size_t known_ = 0;
};

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
    Joining joining{inside_->database};
    auto fresh = joining.fresh_of(std::move(foreign.entries));
    if (!fresh) return refused(fresh.error());
    if (auto done = inside_->take_files(foreign, *erased); !done) return refused(done.error());

    const auto watch = inside_->watch_clock(wall_ms);
    if (!watch) return refused(watch.error());
    auto transaction = Transaction::begun(inside_->database);
    if (!transaction) return refused(inside_->remembered(transaction.error()));
    if (auto done = inside_->take_rows(foreign, *fresh, *erased); !done) {
        return refused(inside_->remembered(done.error()));
    }
    Merged merged{{}, joining.known(), {}};
    const bool is_our_future = std::any_of(
        fresh->begin(), fresh->end(),
        [&](const Written& written) { return written.entry.device == inside_->device; });
    inside_->clock = latest_stamp(*fresh, inside_->clock, wall_ms);
    std::vector<Written> ours;
    if (!fresh->empty() && !is_our_future) {
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
    merged.forks = inside_->forks_among(*fresh);
    merged.fresh = std::move(*fresh);
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
