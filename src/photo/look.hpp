// A short fingerprint of what a picture shows, to ask about a photo that was used twice.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "photo/pixels.hpp"

namespace wm::photo {

/// 64 bits, each the answer to "is this patch brighter than its right neighbour" on a grid of 9 by
/// 8 patches. Survives shrinking and another quality of JPEG; does not survive cropping or turning.
/// Source: the difference hash, common practice, no source.
[[nodiscard]] std::string look_of(const Pixels& pixels);

/// How many of the 64 answers differ; nullopt if a text is not 16 hexadecimal digits.
[[nodiscard]] std::optional<int> difference(std::string_view one, std::string_view other);

/// At most this many differing answers make two photos worth a question, never a verdict.
inline constexpr int alike_at_most = 4;

}  // namespace wm::photo
