// Invented pictures for the tests of photo and handover.
#pragma once

#include <string>

#include "photo/jpeg_coder.hpp"
#include "photo/pixels.hpp"

namespace wm::photo::testing {

/// A picture with soft colours, a bright corner at the top left and noise from `seed`.
inline Pixels scene(int width, int height, unsigned seed) {
    Pixels pixels{width, height, {}};
    unsigned state = seed * 2654435761u + 1u;
    pixels.rgb.reserve(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3u);
    for (int y = 0; y < height; ++y) {
        for (int x = 0; x < width; ++x) {
            state = state * 1664525u + 1013904223u;
            const unsigned noise = (state >> 24) & 15u;
            const bool corner = x < width / 4 && y < height / 4;
            const unsigned base =
                corner ? 220u : 60u + 60u * static_cast<unsigned>(x) / static_cast<unsigned>(width);
            const unsigned wave = ((static_cast<unsigned>(x) * (seed % 5u + 1u) / 40u) % 2u) * 40u;
            pixels.rgb.push_back(static_cast<std::uint8_t>(std::min(255u, base + noise)));
            pixels.rgb.push_back(static_cast<std::uint8_t>(std::min(
                255u, base / 2u + noise +
                          90u * static_cast<unsigned>(y) / static_cast<unsigned>(height))));
            pixels.rgb.push_back(static_cast<std::uint8_t>(std::min(255u, 40u + wave + noise)));
        }
    }
    return pixels;
}

inline std::string jpeg_scene(int width, int height, unsigned seed) {
    return encoded_jpeg(scene(width, height, seed), 90);
}

/// The same JPEG with an EXIF block that says how it is turned and where it was taken.
inline std::string with_exif(const std::string& jpeg, unsigned char orientation) {
    std::string tiff{"MM\0\x2a\0\0\0\x08", 8};
    tiff += std::string{"\0\x02", 2};
    tiff += std::string{"\x01\x12\0\x03\0\0\0\x01\0", 9} + static_cast<char>(orientation) +
            std::string{"\0\0", 2};
    tiff += std::string{"\x01\x0e\0\x02\0\0\0\x12\0\0\0\x26", 12};  // description, 18 bytes at 38
    tiff += std::string{"\0\0\0\0", 4};
    tiff += std::string{"29.4N 61.2E Sill 7", 18};
    const std::string body = std::string{"Exif\0\0", 6} + tiff;
    const auto length = body.size() + 2;
    std::string segment{"\xff\xe1", 2};
    segment += static_cast<char>(length >> 8);
    segment += static_cast<char>(length & 0xffu);
    return jpeg.substr(0, 2) + segment + body + jpeg.substr(2);
}

}  // namespace wm::photo::testing
