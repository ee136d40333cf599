// Ed25519 signatures for chain heads and QR payloads, and the keys of a device.
#pragma once

#include <string>
#include <string_view>

#include "problem/result.hpp"

namespace wm::digest {

/// 32 secret bytes and the 32 public bytes that belong to them.
struct DeviceKey {
    std::string secret;
    std::string public_key;
};

/// The key made of 32 random bytes; the same bytes give the same key. Problem for another length.
[[nodiscard]] Result<DeviceKey> device_key(std::string_view random_bytes);

/// The name of a device: the first 32 hexadecimal digits of the SHA-256 of its public key, so that
/// a chain can be checked against a key without a table of names.
[[nodiscard]] std::string device_id(std::string_view public_key);

/// 64 bytes; deterministic. The key must come from device_key().
[[nodiscard]] std::string sign(const DeviceKey& key, std::string_view message);

/// False for a wrong signature, and for a key or signature of a wrong length.
[[nodiscard]] bool is_signed_by(std::string_view public_key, std::string_view message,
                                std::string_view signature);

/// The public key as PEM, as `openssl pkeyutl -verify -pubin -inkey` takes it.
[[nodiscard]] std::string public_key_pem(std::string_view public_key);

}  // namespace wm::digest
