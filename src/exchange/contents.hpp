// What a bundle holds, once its signature and every hash were found to fit. For this room.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "exchange/archive.hpp"
#include "record/chain.hpp"
#include "store/journal.hpp"

namespace wm::exchange {

/// 2 since bundles carry the checklists that their jobs pin; 1 is still read.
inline constexpr std::int64_t bundle_format = 2;

using CustomerKeys = std::map<std::string, std::string, std::less<>>;

struct LockedKeys {
    std::string salt;
    std::string box;
};

struct Contents {
    std::string maker;  ///< device id
    std::vector<record::SignedHead> heads;
    std::vector<record::Written> entries;
    std::vector<store::LockedWords> words;
    std::vector<store::LockedFile> files;
    std::vector<std::string> pins;  ///< checklists that jobs opened in `entries` pin, as texts
    std::optional<LockedKeys> keys;
};

/// Hashes of the checklists with which these entries open jobs.
[[nodiscard]] std::set<std::string> pinned_by(const std::vector<record::Written>& entries);

/// The parts of a bundle in their order, manifest and signature first.
[[nodiscard]] Result<std::vector<Part>> parts_of(const Contents& contents,
                                                 const digest::DeviceKey& maker);

/// Checks signature, hashes, lines and links. Problem of kind Refused for what was changed, of kind
/// Unreadable for what is no bundle.
[[nodiscard]] Result<Contents> contents_of(std::string_view bytes, std::string_view where);

/// Customer keys under a passphrase.
[[nodiscard]] Result<LockedKeys> locked_keys(const CustomerKeys& keys, std::string_view passphrase,
                                             const store::RandomBytes& random);
[[nodiscard]] Result<CustomerKeys> unlocked_keys(const LockedKeys& locked,
                                                 std::string_view passphrase,
                                                 std::string_view where);

}  // namespace wm::exchange
