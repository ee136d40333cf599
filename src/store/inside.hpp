// What a Journal is made of. For the sources of this room.
#pragma once

#include <functional>
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

namespace wm::store {

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
    std::map<std::string, std::string> kept;  ///< files not yet named by an entry → customer

    [[nodiscard]] std::filesystem::path file_of(std::string_view attachment) const {
        return opening.folder / "attachments" / std::string{attachment};
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
    void advance(const std::vector<record::Written>& written);

    // words.cpp
    /// Fills in commitments and stores the locked words, inside the caller's transaction.
    [[nodiscard]] Result<void> write_words(std::string_view customer,
                                           std::vector<record::Draft>& drafts);
    [[nodiscard]] Result<void> write_locked(const std::vector<LockedWords>& words);
    [[nodiscard]] Result<void> write_attachments(const std::vector<record::Draft>& drafts);
    [[nodiscard]] Result<void> fill_in_words(std::vector<record::Written>& entries) const;
    [[nodiscard]] Result<void> forget_rows_of(const std::string& customer);
    /// After the commit: key, files and every page that could still hold a copy.
    [[nodiscard]] Result<void> forget_rest_of(const std::vector<std::string>& customers);
    [[nodiscard]] Result<std::set<std::string>> erased_customers() const;

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
    /// Rows of entry, every hash recomputed.
    [[nodiscard]] Result<Entries> read_rows(
        std::string_view condition, const std::function<void(Statement&)>& bind_values) const;
};

}  // namespace wm::store
