#include "photo/look.hpp"

#include <algorithm>
#include <array>
#include <bit>

namespace wm::photo {

namespace {

constexpr int columns = 9;
constexpr int rows = 8;

/// Mean brightness of a patch, on a scale that needs no floating point: sums of weighted bytes
/// divided by their number.
std::uint64_t brightness(const Pixels& pixels, int column, int row) {
    const int left = pixels.width * column / columns;
    const int right = std::max(left + 1, pixels.width * (column + 1) / columns);
    const int top = pixels.height * row / rows;
    const int bottom = std::max(top + 1, pixels.height * (row + 1) / rows);
    std::uint64_t sum = 0;
    std::uint64_t count = 0;
    for (int y = top; y < std::min(bottom, pixels.height); ++y) {
        for (int x = left; x < std::min(right, pixels.width); ++x) {
            const std::size_t at =
                3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(pixels.width) +
                     static_cast<std::size_t>(x));
            sum += 299u * pixels.rgb[at] + 587u * pixels.rgb[at + 1] + 114u * pixels.rgb[at + 2];
            ++count;
        }
    }
    return count == 0 ? 0 : sum / count;
}

std::optional<std::uint64_t> bits_of(std::string_view text) {
    if (text.size() != 16) return std::nullopt;
    std::uint64_t bits = 0;
    for (const char c : text) {
        std::uint64_t digit = 0;
        if (c >= '0' && c <= '9') {
            digit = static_cast<std::uint64_t>(c - '0');
        } else if (c >= 'a' && c <= 'f') {
            digit = static_cast<std::uint64_t>(c - 'a') + 10u;
        } else {
            return std::nullopt;
        }
        bits = (bits << 4) | digit;
    }
    return bits;
}

}  // namespace

std::string look_of(const Pixels& pixels) {
    if (pixels.width <= 0 || pixels.height <= 0) return std::string(16, '0');
    std::uint64_t bits = 0;
    for (int row = 0; row < rows; ++row) {
        std::array<std::uint64_t, columns> line{};
        for (int column = 0; column < columns; ++column) {
            line[static_cast<std::size_t>(column)] = brightness(pixels, column, row);
        }
        for (std::size_t i = 0; i + 1 < line.size(); ++i) {
            bits = (bits << 1) | (line[i] > line[i + 1] ? 1u : 0u);
        }
    }
    constexpr std::string_view digits = "0123456789abcdef";
    std::string text;
    for (int shift = 60; shift >= 0; shift -= 4) text += digits[(bits >> shift) & 0xfu];
    return text;
}

std::optional<int> difference(std::string_view one, std::string_view other) {
    const auto a = bits_of(one);
    const auto b = bits_of(other);
    if (!a || !b) return std::nullopt;
    return std::popcount(*a ^ *b);
}

}  // namespace wm::photo
