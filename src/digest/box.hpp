// Locked boxes: AES-256-GCM for what must be kept secret, scrypt for a key made of a passphrase.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "problem/result.hpp"

namespace wm::digest {

inline constexpr std::size_t box_key_bytes = 32;
inline constexpr std::size_t box_nonce_bytes = 12;
inline constexpr std::size_t box_tag_bytes = 16;

/// A key and the purpose it is used for. The purpose is authenticated, not hidden: a box locked
/// for one purpose does not open for another.
struct BoxKey {
    std::string key;  ///< 32 bytes
    std::string purpose;
};

/// Nonce, ciphertext and tag in one piece, 28 bytes longer than `plain`. `nonce` is 12 bytes that
/// must never be used twice with one key.
[[nodiscard]] Result<std::string> lock(const BoxKey& key, std::string_view nonce,
                                       std::string_view plain);

/// The bytes that were locked. Problem if one bit differs, or the key or purpose is another.
/// `where` names the box for the message.
[[nodiscard]] Result<std::string> unlock(const BoxKey& key, std::string_view box,
                                         std::string_view where);

/// 32 bytes of scrypt (N = 2^15, r = 8, p = 1: 32 MB, about a tenth of a second) of a passphrase
/// with a salt of at least 16 random bytes. Source: RFC 7914.
[[nodiscard]] Result<std::string> key_of_passphrase(std::string_view passphrase,
                                                    std::string_view salt);

}  // namespace wm::digest
