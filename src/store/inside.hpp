// What a Journal is made of. For the sources of this room.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "digest/box.hpp"
#include "store/sqlite_file.hpp"
#include "store/files.hpp"
#include "store/journal.hpp"
#include "store/restore_marker.hpp"
#include "store/rows.hpp"

namespace wm::store {

/// The log of the database as the last program left it: the opening changes it. Empty where there is none.
[[nodiscard]] std::string log_as_left(const std::filesystem::path& folder, Disk& disk);

/// What is to be told of the clocks before the drafts, after the entry that starts a device. How many entries that is.
int put_told_into(std::vector<record::Draft>& drafts, const record::ClockWatch& watch);

/// Left before it is over, as where memory ends, nothing more is written: a next entry might follow another than the last.
class HalfWay {
public:
    explicit HalfWay(bool& flag) : flag_{flag}, before_{flag} { flag_ = true; }
    ~HalfWay() {
        if (is_over_) flag_ = before_;
    }
    HalfWay(const HalfWay&) = delete;
    HalfWay& operator=(const HalfWay&) = delete;
    void over() { is_over_ = true; }

private:
    bool& flag_;
    bool before_;
    bool is_over_ = false;
};

struct Journal::Inside {
    Opening opening;
    std::unique_ptr<WatchedDisk> disk;  ///< before what works on it
    Keys keys;
    std::optional<WriterLock> lock;  ///< empty when only reading
    Database database;
    std::string device;
    record::Head head;
    record::Stamp clock;
    std::string read_only_because;
    bool is_half_way = false;  ///< entries were committed, and it is not known whether the head here is theirs
    bool clock_known = false;  ///< clock.txt was read
    std::optional<record::ClockKept> clock_kept;
    std::optional<record::TimeSource> source_told = {};  ///< as the chain of `device` says it; none while it was not looked up
    int told_of_clocks = 0;
    std::optional<std::int64_t> head_kept_ms = {};  ///< wall time of the entry that head.txt was last written for
    std::optional<record::EntriesLost> lost_at_opening = {};
    std::string former_device;  ///< of a device whose first entry is not written yet
    std::vector<LockedWords> house_words;  ///< said, and stored with the next append
    std::map<std::string, std::string> kept;  ///< files not yet named by an entry → customer

    [[nodiscard]] std::filesystem::path file_of(std::string_view attachment) const {
        return opening.folder / "attachments" / std::string{attachment};
    }

    [[nodiscard]] std::filesystem::path backups() const {
        return opening.backups.empty() ? opening.folder / "backups" : opening.backups;
    }

    /// The customer, or the house for an empty name.
    [[nodiscard]] std::string owner_of(std::string_view customer) const {
        return customer.empty() ? keys.house() : std::string{customer};
    }

    // journal.cpp
    [[nodiscard]] Result<void> find_head();
    /// Nothing more is written where the signed head and the last entry do not fit.
    [[nodiscard]] Result<void> compare_with_signed_head();
    /// Remembers that the disk let us down and gives the problem back.
    [[nodiscard]] Problem remembered(Problem problem);
    [[nodiscard]] Result<void> may_write() const;
    [[nodiscard]] record::DeviceStarted start_of_device(std::string predecessor,
                                                        const digest::DeviceKey& key) const;
    /// Chains the drafts on and stores them inside a transaction that the caller owns.
    [[nodiscard]] Result<std::vector<record::Written>> write_drafts(
        const record::Head& after, const record::Stamp& first, std::vector<record::Draft> drafts);
    [[nodiscard]] Result<void> write_entries(const std::vector<record::Written>& entries);
    [[nodiscard]] Result<void> write_head(const record::SignedHead& head);
    /// Commits, and goes on from the last of them.
    [[nodiscard]] Result<void> commit(Transaction& transaction, const std::vector<record::Written>& written);
    void advance(const std::vector<record::Written>& written);
    /// Journal::become_new_device(), whoever asks.
    [[nodiscard]] Result<void> start_new_device(std::int64_t wall_ms);

    // head_kept.cpp
    /// With the first entry after the opening, then every half minute of wall time at most. What fails here costs nothing that was promised.
    void keep_head();
    /// What head.txt knows of and the journal does not.
    [[nodiscard]] std::optional<record::EntriesLost> entries_lost() const;

    // clock_kept.cpp
    [[nodiscard]] Result<record::ClockWatch> watch_clock(std::int64_t wall_ms);
    /// What our chain last said of the source of its times.
    [[nodiscard]] Result<record::TimeSource> source_said() const;
    void clock_told(const record::ClockWatch& watch);
    /// What the wall clock showed at the last of our own entries after that one; 0 if it timed none.
    [[nodiscard]] Result<std::int64_t> last_wall_after(std::int64_t seq) const;

    // words.cpp
    [[nodiscard]] Result<LockedWords> locked_words(const std::string& owner, const std::string& key,
                                                   std::string_view words) const;
    /// Fills in commitments and stores the locked words, inside the caller's transaction.
    [[nodiscard]] Result<void> write_words(std::string_view customer,
                                           std::vector<record::Draft>& drafts);
    [[nodiscard]] Result<void> write_locked(const std::vector<LockedWords>& words);
    [[nodiscard]] Result<void> write_attachments(const std::vector<record::Draft>& drafts);
    [[nodiscard]] Result<void> fill_in_words(std::vector<record::Written>& entries,
                                             WordDoubts* doubts = nullptr) const;
    [[nodiscard]] Result<void> forget_rows_of(const std::string& customer);
    /// After the commit: key, files and every page that could still hold a copy.
    [[nodiscard]] Result<void> forget_rest_of(const std::vector<std::string>& customers);
    /// Of whom an entry says so. A row without one was put there by somebody else and is not obeyed.
    [[nodiscard]] Result<std::set<std::string>> erased_customers() const;
    [[nodiscard]] Result<std::vector<std::string>> erased_without_entry() const;

    // merge.cpp
    [[nodiscard]] Result<void> take_files(const Foreign& foreign,
                                          const std::set<std::string>& erased);
    [[nodiscard]] Result<void> take_rows(const Foreign& foreign,
                                         const std::vector<record::Written>& fresh,
                                         const std::set<std::string>& erased);
    [[nodiscard]] Result<bool> is_stored(const record::Head& entry) const;
    /// A Received entry that names the heads of all other chains.
    [[nodiscard]] Result<record::Draft> received_draft() const;
    [[nodiscard]] std::vector<record::Fork> forks_among(
        const std::vector<record::Written>& fresh) const;

    // reading.cpp
    /// A stretch of numbers of a device under which nothing stands, though the next ones do.
    struct Gap {
        std::string device;
        std::int64_t first = 0, last = 0;
    };
    std::optional<std::vector<Gap>> gaps;  ///< as of `gaps_version`
    std::int64_t gaps_version = 0;
    /// Sentences of altered_tables(), as of the opening.
    std::vector<std::string> altered_parts;
    /// Devices whose last entries here no genuine head covers, and the last number that one does; as of `gaps_version`.
    std::map<std::string, std::int64_t> unsigned_after;
    /// A sentence where the index of the jobs does not name as many entries as there are; as of `index_version`.
    std::string index_doubt{};
    std::int64_t index_version = -1;
    /// For after "FROM entry": the table itself where its index cannot be trusted.
    [[nodiscard]] std::string_view by_job() const { return index_doubt.empty() ? "" : "NOT INDEXED"; }
    /// Asks that of one device.
    [[nodiscard]] Result<std::optional<std::int64_t>> unsigned_end(const std::string& of, std::int64_t last) const;
    [[nodiscard]] Result<void> look_for_gaps();
    /// Whether the index of the jobs names as many entries as there are; the answer is kept while nobody else writes.
    [[nodiscard]] Result<void> look_at_index();
    /// Journal::jobs() without the index.
    [[nodiscard]] Result<std::vector<JobLine>> jobs_by_table() const;
    /// The rows of a job, and those of the devices' stream that concern every job.
    [[nodiscard]] Result<Entries> rows_of_job(std::string_view job, std::string_view by) const;
    /// What the rows of a job, found by its index, leave out: entries that stand under its name in the
    /// table, and gaps in which one of it may have stood.
    [[nodiscard]] Result<void> complete(std::string_view job, Entries& read);
    /// Rows of entry, every hash recomputed.
    [[nodiscard]] Result<Entries> read_rows(
        std::string_view condition, const std::function<void(Statement&)>& bind_values) const;
};

/// The tables without free pages and caches as one file, synced. Replaces an older one. `trouble` is told what stopped it, in
/// whichever of the two files.
[[nodiscard]] Result<void> copy_tables(const Database& database, const std::filesystem::path& file,
                                       Disk& disk, Trouble* trouble = nullptr);

/// The tables of an older version before they are brought up; see older_version().
[[nodiscard]] Result<void> copy_before_migration(const Opening& opening, const Database& database,
                                                 std::int64_t version, Disk& disk);

}  // namespace wm::store
