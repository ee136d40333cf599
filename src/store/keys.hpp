// The keys of a data folder: the device's, the company's, the master key and one per customer.
//
// Files under keys/, mode 0600: `device.key` (Ed25519), `company.key` (root and signing key),
// `master.key` (32 bytes) and `customers.box` (every customer's key, locked under the master key,
// rewritten whole on every change, so that an erased key leaves no copy in it). As long as no person
// has a PIN, who can read the folder as its owner can use them, and sealed_by_pin() says so.
// Afterwards the first three lie locked (AES-256-GCM) in `device.sealed`, `company.sealed` and
// `master.sealed` under the sealing key, which only a PIN gives (people.hpp).
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "digest/company.hpp"
#include "digest/sign.hpp"
#include "problem/result.hpp"
#include "store/disk.hpp"

namespace wm::store {

/// So many bytes that nobody can guess. Tests pass a counter.
using RandomBytes = std::function<std::string(std::size_t)>;

class Keys {
public:
    /// Reads what is there. Makes what is missing: device and master key always, company keys when
    /// `company` is not empty, valid from `wall_ms` on for ten years. Keys that are sealed are never
    /// made anew: without the right `sealing_key` they stay shut.
    [[nodiscard]] static Result<Keys> open_or_make(const std::filesystem::path& folder,
                                                   const RandomBytes& random,
                                                   std::string_view company, std::int64_t wall_ms,
                                                   Disk& disk = system_disk(),
                                                   const std::string& sealing_key = {});
    /// Reads what is there and makes nothing. Kind Refused when the keys are sealed and
    /// `sealing_key` is empty or another one.
    [[nodiscard]] static Result<Keys> open(const std::filesystem::path& folder,
                                           Disk& disk = system_disk(),
                                           const std::string& sealing_key = {});

    /// No keys at all: for reading what needs none.
    [[nodiscard]] static Keys none(Disk& disk = system_disk());

    /// Writes what a backup needs into `folder`/keys (backup.hpp says what). `passphrase` may be empty.
    [[nodiscard]] Result<void> back_up_into(const std::filesystem::path& folder,
                                            const std::string& passphrase,
                                            const RandomBytes& random) const;
    /// The customers' keys alone: after an erasure.
    [[nodiscard]] Result<void> renew_customers_in(const std::filesystem::path& folder) const;

    [[nodiscard]] const digest::DeviceKey& device() const { return device_; }
    [[nodiscard]] const std::optional<digest::CompanyKeys>& company() const { return company_; }
    [[nodiscard]] bool sealed_by_pin() const { return !sealing_key_.empty(); }
    /// 32 bytes; empty while nothing is sealed.
    [[nodiscard]] const std::string& sealing_key() const { return sealing_key_; }

    /// Locks device, company and master key under these 32 bytes, beside the open ones. The open
    /// ones still count until drop_unsealed(): whoever can give the sealing key must be kept first.
    [[nodiscard]] Result<void> write_sealed(const std::string& sealing_key, const RandomBytes& random);
    /// Removes the open files; from here on the sealed ones count. Also when only some are left. Call it
    /// after write_sealed() only.
    [[nodiscard]] Result<void> drop_unsealed(const std::string& sealing_key);

    /// Whose key locks what belongs to no customer, such as mail to the quality lead.
    [[nodiscard]] std::string house() const;
    /// The customer's 32 bytes; nullopt when there are none, because they were erased or never
    /// came.
    [[nodiscard]] std::optional<std::string> customer(std::string_view id) const;
    [[nodiscard]] const std::map<std::string, std::string, std::less<>>& customers() const {
        return customers_;
    }

    /// Adds keys and rewrites the file; known customers keep theirs.
    [[nodiscard]] Result<void> add_customers(
        const std::map<std::string, std::string, std::less<>>& keys, const RandomBytes& random);
    /// Removes keys and rewrites the file.
    [[nodiscard]] Result<void> erase_customers(const std::vector<std::string>& ids,
                                               const RandomBytes& random);

    /// Puts another device key in place, durably.
    [[nodiscard]] Result<void> take_device(digest::DeviceKey key, const RandomBytes& random);

private:
    Keys() = default;
    [[nodiscard]] Result<void> read_files(const std::string& sealing_key);
    [[nodiscard]] Result<void> write_customers(const RandomBytes& random);

    std::filesystem::path folder_;
    Disk* disk_ = nullptr;
    std::string sealing_key_;
    digest::DeviceKey device_;
    std::optional<digest::CompanyKeys> company_;
    std::string master_;
    std::map<std::string, std::string, std::less<>> customers_;
};

}  // namespace wm::store
