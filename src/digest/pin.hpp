// A key made of a PIN: slow and hungry for memory on purpose, since a PIN is short.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "problem/result.hpp"

namespace wm::digest {

inline constexpr std::size_t pin_salt_bytes = 16;

/// What one try costs. The default takes about a tenth of a second: a million tries, all PINs of six
/// digits, then keep one core busy for a day.
struct PinCost {
    std::uint64_t passes = 3;           ///< 1 to 1000
    std::uint64_t memory_kib = 65'536;  ///< 8 to 1,048,576
    friend bool operator==(const PinCost&, const PinCost&) = default;
};

/// 32 bytes of Argon2id, version 1.3, one lane. `salt` has 16 bytes. Problem for a salt of another
/// length, a cost out of range, or when the memory is not to be had. Source: RFC 9106.
[[nodiscard]] Result<std::string> key_of_pin(std::string_view pin, std::string_view salt,
                                             const PinCost& cost = {});

/// Overwrites the text in memory before it is let go.
void wipe(std::string& secret);

}  // namespace wm::digest
