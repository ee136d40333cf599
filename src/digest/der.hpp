// Writing DER by hand, for what must be byte for byte as we say. For the sources of this room.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace wm::digest {

namespace tag {
inline constexpr char integer = '\x02';
inline constexpr char bits = '\x03';
inline constexpr char octets = '\x04';
inline constexpr char object_id = '\x06';
inline constexpr char sequence = '\x30';
inline constexpr char set = '\x31';
inline constexpr char context_0 = '\xa0';
inline constexpr char context_1 = '\xa1';
inline constexpr char context_4 = '\xa4';
}  // namespace tag

/// Tag, length in the fewest bytes, content. Source: X.690, section 10.1.
[[nodiscard]] std::string der(char tag, std::string_view content);

/// An object identifier from its encoded arcs.
[[nodiscard]] std::string oid(std::string_view arcs);

/// The content of a SET OF: its members sorted by their bytes. Source: X.690, section 11.6.
[[nodiscard]] std::string set_of(std::vector<std::string> members);

/// A positive integer from its big-endian bytes.
[[nodiscard]] std::string positive_integer(std::string_view bytes);

/// ecdsa-with-SHA256, which has no parameters. Source: RFC 5758, section 3.2.
[[nodiscard]] std::string ecdsa_sha256_oid();

}  // namespace wm::digest
