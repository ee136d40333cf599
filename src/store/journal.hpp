// The journal of a data folder: append, read again with every hash recomputed, merge, erase.
//
// Files: journal.db (SQLite, WAL, synchronous FULL), attachments/<SHA-256 of the ciphertext>,
// keys/ (keys.hpp), writer.lock, backups/ (backup.hpp), restore.json (restore.hpp). The table that counts is
//     entry(device, seq, prev, hash, time, job, body), keyed by (device, seq, hash)
// so that a forked chain can be kept as evidence. personal, attachment, head and cache stand
// beside it. One process writes, any number may read. Not for use by two threads at once; it may
// be moved to another.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "problem/result.hpp"
#include "record/chain.hpp"
#include "record/clock.hpp"
#include "record/clock_watch.hpp"
#include "record/entry.hpp"
#include "store/disk.hpp"
#include "store/keys.hpp"
#include "store/people.hpp"
#include "store/steps.hpp"

namespace wm::store {

struct Opening {
    std::filesystem::path folder;  ///< made if missing, when writing
    RandomBytes random;
    std::int64_t wall_ms = 0;  ///< now, milliseconds since 1970 UTC
    std::string company;       ///< name for the company keys made at first start; empty = none
    /// What the machine counted since its start; not set = the wall clock is not watched.
    std::function<std::optional<record::SinceBoot>()> since_boot = {};
    /// Whether the times of what is written are the clock's; the entries say so where it changes.
    record::TimeSource time_source = record::TimeSource::Clock;
    std::string vfs;           ///< name of a registered SQLite VFS; empty = the disk's own
    Disk* disk = nullptr;      ///< outlives the journal; null = the machine's
    std::string sealing_key = {};  ///< what a PIN gave (people.hpp); empty while keys are not sealed
    /// The folder of the backups (backup.hpp); empty = backups/ in `folder`.
    std::filesystem::path backups = {};
    /// How long to ask again while another program writes; then it is refused.
    std::int64_t patience_ms = 0;
    /// The SQLite file; empty = journal.db in `folder`. Another one is a copy and only read.
    std::filesystem::path file = {};
    /// How its tables came about; other than the program's own only in a test of a step.
    Steps steps = own_steps();
};

/// What one intent writes, all of it or nothing.
struct Intent {
    std::int64_t wall_ms = 0;
    /// Whose key locks the personal words: an id made by new_customer(), or empty for the
    /// company's own. Words of a Personal that have a text and no commitment get theirs here.
    std::string customer;
    std::vector<record::Draft> drafts;
};

/// What was read. `damaged` are sentences; what they speak of is not among the entries.
struct Entries {
    std::vector<record::Written> entries;
    std::vector<std::string> damaged;
};

/// One job as the table knows it, without opening it.
struct JobLine {
    std::string job;
    std::string first_time, last_time;
    std::string last_hash;  ///< of the entry with the last time: names what a cache was made from
};

struct AttachmentLine {
    std::string id;
    std::string customer;
};

struct Cached {
    std::string made_from;
    std::string body;
};

/// A person's words as they travel and lie: locked.
struct LockedWords {
    std::string commitment;
    std::string customer;
    std::string box;
};

struct LockedFile {
    std::string id;
    std::string customer;
    std::string bytes;  ///< nonce, ciphertext, tag
};

/// What a bundle brings.
struct Foreign {
    std::vector<record::Written> entries;
    std::vector<record::SignedHead> heads;
    std::vector<LockedWords> words;
    std::vector<LockedFile> files;
    std::map<std::string, std::string, std::less<>> customer_keys;
};

struct Merged {
    std::vector<record::Written> fresh;  ///< entries that were not here before
    std::size_t known = 0;
    std::vector<record::Fork> forks;
};

struct JournalReport {
    record::ChainReport chains;
    std::vector<std::string> reasons;  ///< everything wrong, as sentences; empty = genuine
    std::int64_t by_hand = 0;          ///< entries whose time was given by hand
    std::size_t attachments = 0;
    std::size_t erased_words = 0;  ///< commitments whose words are gone, which is no fault
    [[nodiscard]] bool is_genuine() const { return reasons.empty(); }
};

/// How well the files beside the journal are looked at.
enum class Files { Read, LookOnly, LeaveOut };

class Journal {
public:
    /// Makes the folder, keys and tables when they are missing. Refuses a second writer, a file of
    /// another program, of a later version, or one that is torn, and changes nothing in it.
    [[nodiscard]] static Result<Journal> open_to_write(Opening opening);
    /// For a second window or a check. Nothing is written.
    [[nodiscard]] static Result<Journal> open_to_read(Opening opening);
    /// A copy of a journal, named by `file`, under keys that are known already. Its folder holds the
    /// attachments. Nothing is written.
    [[nodiscard]] static Result<Journal> open_copy(Opening opening, Keys keys);

    Journal(Journal&&) noexcept;
    Journal& operator=(Journal&&) noexcept;
    ~Journal();

    [[nodiscard]] const Keys& keys() const;
    /// The disk below, for files beside the journal: what it once failed to sync stops the journal too.
    [[nodiscard]] Disk& disk() const;
    [[nodiscard]] const std::filesystem::path& folder() const;  ///< of the data
    [[nodiscard]] std::filesystem::path backups() const;        ///< where its backups lie
    [[nodiscard]] const std::string& device() const;            ///< our device id
    /// Our own head; seq 0 before the first entry.
    [[nodiscard]] const record::Head& head() const;

    /// Makes a customer with a key of its own and gives the id. Durable on return.
    [[nodiscard]] Result<std::string> new_customer();

    /// Locks the bytes under the customer's key and stores the file, synced. It counts once an
    /// entry names it. `media_type` and `fingerprint` as in record::Attached.
    [[nodiscard]] Result<record::Attached> keep(std::string_view customer, std::string_view bytes,
                                                std::string_view media_type,
                                                std::string_view fingerprint);
    /// The bytes again, checked. Problem when erased, missing or changed.
    [[nodiscard]] Result<std::string> attachment(std::string_view id) const;

    /// Words of the company's own people, locked under the key of the house: erasing a customer does not
    /// take them. For a draft; stored with the next append.
    [[nodiscard]] Result<record::Personal> said_by_house(std::string_view words);

    /// Whether words that lie here are locked under the key of the house.
    [[nodiscard]] Result<bool> is_of_house(const record::Personal& words) const;

    /// Chains, locks, stores, syncs. On return the entries are durable. The first append of a
    /// device is preceded by its DeviceStarted entry, the first after a jump of the clock by a ClockJumped,
    /// the first under another source of times by a TimeSourceChanged (none is among the result). After a failed
    /// sync nothing more is written until the journal is opened anew.
    [[nodiscard]] Result<std::vector<record::Written>> append(Intent intent);
    /// Entries that were saved and are not here any more, as seen at the opening. Opened to write, it is told in the chain, and gone on from
    /// as a new device.
    [[nodiscard]] const std::optional<record::EntriesLost>& lost_at_opening() const;
    /// Why append() would refuse; empty while it would not.
    [[nodiscard]] const std::string& read_only_because() const;

    /// How many entries about clocks were put before others since the opening; they concern every job.
    [[nodiscard]] int told_of_clocks() const;

    /// Entries of one job, with all Received, ClockJumped, TimeSourceChanged and CustomerErased entries, in_order(),
    /// personal words filled in.
    [[nodiscard]] Result<Entries> read_job(std::string_view job) const;
    /// Everything, in_order().
    [[nodiscard]] Result<Entries> read_all() const;
    /// One device's chain from a sequence on, by sequence.
    [[nodiscard]] Result<Entries> read_chain(std::string_view device, std::int64_t from_seq) const;
    /// Entries of the device itself and of other streams: those without a job.
    [[nodiscard]] Result<Entries> read_stream() const;
    /// By number. Two seeks in an index for each job, however long its record is.
    [[nodiscard]] Result<std::vector<JobLine>> jobs() const;
    /// One of them; nothing where there is no such job.
    [[nodiscard]] Result<std::optional<JobLine>> job_line(std::string_view job) const;
    /// Another number than before means that another program has written meanwhile.
    [[nodiscard]] std::int64_t version() const;
    /// How many customers were erased, here or by what a bundle said: more than before means that
    /// words read earlier must be forgotten.
    [[nodiscard]] std::int64_t erasures() const;

    /// The last entry of every chain (several of a forked one), with the device's signature.
    [[nodiscard]] Result<std::vector<record::Head>> heads() const;
    [[nodiscard]] Result<std::vector<record::SignedHead>> signed_heads() const;

    /// Locked words and files that the given entries name, for a bundle.
    [[nodiscard]] Result<std::vector<LockedWords>> words_of(
        const std::vector<record::Written>& entries) const;
    [[nodiscard]] Result<std::vector<LockedFile>> files_of(
        const std::vector<record::Written>& entries) const;

    /// Takes a bundle's content whole or refuses it whole: every chain must continue or repeat one
    /// that is here. Appends a Received entry when anything was new, and obeys CustomerErased.
    [[nodiscard]] Result<Merged> merge(Foreign foreign, std::int64_t wall_ms);

    /// Deletes the customer's key, words and files, and says so in an entry.
    [[nodiscard]] Result<void> erase_customer(std::string_view customer, std::int64_t wall_ms);

    /// This folder goes on as a new device that names the old one: after a restore or a copy.
    [[nodiscard]] Result<void> become_new_device(std::int64_t wall_ms);

    /// Gives a person a PIN, or another one. The first seals the keys of the folder.
    [[nodiscard]] Result<void> put_person(const Person& person, std::string_view pin,
                                          const digest::PinCost& cost = {});
    [[nodiscard]] Result<void> remove_person(std::string_view name);
    [[nodiscard]] Result<std::vector<Person>> people() const;

    /// Recomputes everything: chains, signatures of heads, attachments, commitments. LookOnly asks
    /// of the files beside the journal only that they are there, LeaveOut nothing.
    [[nodiscard]] Result<JournalReport> verify_journal(Files files = Files::Read) const;

    /// Whether this very entry is here.
    [[nodiscard]] Result<bool> holds(const record::Head& entry) const;
    /// All attachments that were not erased.
    [[nodiscard]] Result<std::vector<AttachmentLine>> attachments() const;
    [[nodiscard]] Result<std::vector<std::string>> erased_customers() const;
    /// The tables as one SQLite file without log, free pages and caches, synced. An older file of
    /// that name is replaced.
    [[nodiscard]] Result<void> copy_tables_to(const std::filesystem::path& file) const;

    /// Texts that can be thrown away and made again; erase_customer() throws all of them away. The
    /// body lies locked under the key of the house, for it may hold names. `made_from` is the
    /// caller's word for what it was computed from; a cache made from something else is stale.
    [[nodiscard]] std::optional<Cached> cache(std::string_view name) const;
    [[nodiscard]] Result<void> put_cache(std::string_view name, const Cached& cached);
    [[nodiscard]] Result<void> drop_caches();

private:
    struct Inside;
    void check_personal(const std::vector<record::Written>& entries,
                        const std::set<std::string>& erased, Files files,
                        JournalReport& report) const;
    [[nodiscard]] Result<void> go_on_after_loss(const record::EntriesLost& lost, const std::string& log);
    [[nodiscard]] Result<void> go_on_after_restore(const std::string& predecessor,
                                                   const std::vector<std::string>& erased);
    /// Of a customer who was erased already, here or elsewhere.
    [[nodiscard]] Result<void> erase_again(const std::string& customer, std::int64_t wall_ms);
    explicit Journal(std::unique_ptr<Inside> inside);
    std::unique_ptr<Inside> inside_;
};

}  // namespace wm::store
