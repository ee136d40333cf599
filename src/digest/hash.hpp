// SHA-256, HMAC-SHA-256 and hexadecimal text: the fingerprints everything else rests on.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace wm::digest {

/// The 32 bytes of SHA-256.
[[nodiscard]] std::string sha256(std::string_view bytes);

/// The same as 64 lower-case hexadecimal digits, as `sha256sum` prints them.
[[nodiscard]] std::string sha256_hex(std::string_view bytes);

/// The 32 bytes of HMAC-SHA-256 of `message` under `key` (any length).
[[nodiscard]] std::string hmac_sha256(std::string_view key, std::string_view message);

/// Two lower-case digits a byte.
[[nodiscard]] std::string to_hex(std::string_view bytes);

/// The bytes of an even number of lower-case hexadecimal digits; nullopt for anything else.
[[nodiscard]] std::optional<std::string> from_hex(std::string_view digits);

/// True for exactly 64 lower-case hexadecimal digits.
[[nodiscard]] bool is_sha256_hex(std::string_view text);

/// Compares without telling by its duration where the first difference stands.
[[nodiscard]] bool same_bytes(std::string_view a, std::string_view b);

}  // namespace wm::digest
