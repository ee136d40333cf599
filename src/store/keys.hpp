// The keys of a data folder: the device's, the company's, the master key and one per customer.
//
// Files under keys/, mode 0600: `device.key` (Ed25519), `company.key` (root and signing key),
// `master.key` (32 bytes) and `customers.box` (every customer's key, locked under the master key,
// rewritten whole on every change, so that an erased key leaves no copy in it). They are not
// sealed by a PIN: who can read the folder as its owner can use them, and sealed_by_pin() says so.
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

namespace wm::store {

/// So many bytes that nobody can guess. Tests pass a counter.
using RandomBytes = std::function<std::string(std::size_t)>;

class Keys {
public:
    /// Reads what is there. Makes what is missing: device and master key always, company keys when
    /// `company` is not empty, valid from `wall_ms` on for ten years.
    [[nodiscard]] static Result<Keys> open_or_make(const std::filesystem::path& folder,
                                                   const RandomBytes& random,
                                                   std::string_view company, std::int64_t wall_ms);
    /// Reads what is there and makes nothing.
    [[nodiscard]] static Result<Keys> open(const std::filesystem::path& folder);

    [[nodiscard]] const digest::DeviceKey& device() const { return device_; }
    [[nodiscard]] const std::optional<digest::CompanyKeys>& company() const { return company_; }
    [[nodiscard]] bool sealed_by_pin() const { return false; }

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

    /// Puts a fresh device key in place and returns the id of the one it follows.
    [[nodiscard]] Result<std::string> become_new_device(const RandomBytes& random);

private:
    Keys() = default;
    [[nodiscard]] Result<void> read_files();
    [[nodiscard]] Result<void> write_customers(const RandomBytes& random);

    std::filesystem::path folder_;
    digest::DeviceKey device_;
    std::optional<digest::CompanyKeys> company_;
    std::string master_;
    std::map<std::string, std::string, std::less<>> customers_;
};

}  // namespace wm::store
