// Chains of entries: their hashes, heads, forks, and the one order in which they are read.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "digest/sign.hpp"
#include "problem/result.hpp"
#include "record/codec.hpp"
#include "record/entry.hpp"

namespace wm::record {

/// `prev` of the first entry: 64 zeros.
[[nodiscard]] const std::string& no_hash();

/// The hash of an entry, from its canonical line.
[[nodiscard]] Result<std::string> hash_of(const Entry& entry);

/// An entry without its place in a chain, as an intent hands it over.
struct Draft {
    std::string job;
    Body body;
};

/// The drafts chained on after `head` (a Head with seq 0 for a new chain), all with stamps
/// from `first_time` on. Problem when one cannot be written down.
[[nodiscard]] Result<std::vector<Written>> chained(const Head& head, std::string_view first_time,
                                                   std::vector<Draft> drafts);

/// Two different entries of one device with the same number: the folder was copied or restored.
struct Fork {
    std::string device;
    std::int64_t seq = 0;
    std::vector<std::string> hashes;
    friend bool operator==(const Fork&, const Fork&) = default;
};

/// What is true of a set of entries. `broken` are sentences that name device and sequence.
struct ChainReport {
    std::vector<Head> heads;  ///< of the sound part of each chain, by device
    std::vector<Fork> forks;
    std::vector<std::string> broken;
    std::size_t entries = 0;
    std::size_t not_understood = 0;  ///< entries of kinds this version does not know
    [[nodiscard]] bool is_sound() const { return broken.empty() && forks.empty(); }
};

/// Recomputes every hash and follows every `prev`. Any order of entries is taken. Entries whose
/// beginning is missing are broken; so is a first entry that is not the start of its device.
[[nodiscard]] ChainReport verify_chains(std::span<const Written> entries);

/// The same for entries whose hashes were recomputed already, as `store` does while it reads.
[[nodiscard]] ChainReport verify_links(std::span<const Written> entries);

/// What following a chain needs to know of an entry, for those who do not keep the entries. The texts lie elsewhere and
/// outlive the call.
struct Link {
    std::string_view device;
    std::int64_t seq = 0;
    std::string_view prev, hash, time;
    bool starts_device = false;  ///< starts_its_device()
    bool is_unknown = false;
};
[[nodiscard]] ChainReport verify_links(std::vector<Link> links);
/// A first entry that names the very device, its key fitting the name.
[[nodiscard]] bool starts_its_device(const Entry& entry);

/// Heads of a set that is known to be sound.
[[nodiscard]] std::vector<Head> heads_of(std::span<const Written> entries);

/// The order in which a fold reads: chains merged by time, ties by device, but never an entry
/// before one that its writer had seen. The same for every order of the input; repeats drop out.
[[nodiscard]] std::vector<Written> in_order(std::vector<Written> entries);

/// The bytes a device signs for a head, and the bytes a company signs for a device.
[[nodiscard]] std::string head_claim(const Head& head);
[[nodiscard]] std::string device_claim(std::string_view device, std::string_view public_key);
[[nodiscard]] std::string revocation_claim(std::string_view device, std::int64_t from_seq);

struct SignedHead {
    Head head;
    std::string public_key;  ///< Ed25519, 32 bytes
    std::string signature;   ///< 64 bytes over head_claim()
};
[[nodiscard]] SignedHead signed_head(const Head& head, const digest::DeviceKey& key);
/// The signature fits, and the key is the one the device is named after.
[[nodiscard]] bool is_genuine(const SignedHead& head);

/// A chain as a text file a person can check: a line per entry, "hash  line".
[[nodiscard]] Result<std::string> chain_file(std::span<const Written> chain);

/// How to check such a file and its head with sha256sum and openssl, in numbered steps.
[[nodiscard]] std::string explain_chain(const SignedHead& head, std::string_view chain_file_name);

}  // namespace wm::record
