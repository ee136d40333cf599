// Bundles: the part of a journal that travels on a stick or by mail to another device.
//
// A plain tar, readable with stock tools:
//   manifest.json        canonical: format, maker, its public key, heads, SHA-256 of every other
//   file manifest.sig         Ed25519 signature of manifest.json by the maker, hexadecimal
//   chains/<device>.txt  canonical entry lines, one per line, in sequence
//   words.txt            locked personal words, one canonical document per line
//   files/<id>           attachments, locked
//   pins/<hash>          checklists that the jobs opened in it pin, as the device kept them
//   customers.box        customer keys, locked under a passphrase; absent without one
// Without the passphrase a bundle carries outcomes and readings but no name, photo or signature
// that anyone could read. Bundles may be taken in any order and any number of times; one that does
// not continue what is here is refused whole and names the stretch that is missing.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "problem/result.hpp"
#include "record/chain.hpp"
#include "store/journal.hpp"

namespace wm::exchange {

struct PackRequest {
    std::vector<record::Head> since;  ///< what the receiver has; empty = everything
    std::string passphrase;           ///< empty = customer keys stay at home
    store::RandomBytes random;
};

struct Packed {
    std::string bytes;
    std::size_t entries = 0;
    std::size_t attachments = 0;
    std::vector<record::Head> heads;
};

/// The bundle's bytes; the same journal, request and random bytes give the same bytes.
[[nodiscard]] Result<Packed> pack(const store::Journal& journal, const PackRequest& request);

struct ConflictFound {
    std::string job;
    std::string check;
    std::string place;
    friend bool operator==(const ConflictFound&, const ConflictFound&) = default;
};

struct Unpacked {
    std::size_t new_entries = 0;
    std::size_t known_entries = 0;
    std::vector<ConflictFound> conflicts;  ///< in jobs that this bundle touched
    std::vector<record::Fork> forks;
    std::vector<std::string> new_devices;  ///< ids of devices whose entries came here for the first time
    std::size_t checklists = 0;            ///< pinned ones that were not here before
    bool words_readable = false;  ///< the bundle's customer keys were taken
};

/// What unpack() needs besides the bytes.
struct UnpackRequest {
    std::string name;        ///< of the bundle, for messages
    std::string passphrase;  ///< empty = take it without customer keys
    std::int64_t wall_ms = 0;
    std::vector<std::string> refused{};  ///< devices of which no bundle is taken
    bool may_erase = true;  ///< whether an erasure by a device that nobody here has met is taken; else the bundle is refused
};

/// Takes a bundle whole, or leaves the journal as it was. The checklists it carries are kept first, so
/// that no job is here without the list it was opened with.
[[nodiscard]] Result<Unpacked> unpack(store::Journal& journal, std::string_view bytes,
                                      const UnpackRequest& request);

/// A bundle judged without a journal.
struct BundleReport {
    bool genuine = false;
    std::vector<std::string> reasons;
    std::string maker;  ///< device id
    std::vector<record::Head> heads;
    std::size_t entries = 0;
    std::size_t attachments = 0;
};
[[nodiscard]] Result<BundleReport> attest_bundle(std::string_view bytes, std::string_view name);

}  // namespace wm::exchange
