// Where a picture was taken, as its camera wrote it down.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace wm::photo {

struct Position {
    double latitude = 0.0;   ///< degrees, north positive, -90 to 90
    double longitude = 0.0;  ///< degrees, east positive, -180 to 180
};

/// From latitude, longitude and their letters in the GPS part of the EXIF data (CIPA DC-008, GPS attribute information):
/// degrees, minutes and seconds as fractions, of which the later ones may be zero. nullopt if there is none, if a fraction
/// divides by zero, or if it lies outside the ranges.
[[nodiscard]] std::optional<Position> position_of(std::string_view bytes);

/// "29.40512° N, 83.10043° E": five digits are about a metre.
[[nodiscard]] std::string in_words(const Position& position);

}  // namespace wm::photo
