// Drawing by lot so that anyone can draw the same again, and nobody can beforehand.
#pragma once

#include <cstdint>
#include <random>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace wm::audit {

/// Fowler, Noll and Vo's hash of 64 bits, the variant 1a (RFC 9923), from memory. It hides nothing: what goes in must be
/// unknown beforehand.
[[nodiscard]] constexpr std::uint64_t mixed(std::string_view text) {
    std::uint64_t hash = 0xcbf29ce484222325ULL;
    for (const char c : text) {
        hash ^= static_cast<unsigned char>(c);
        hash *= 0x100000001b3ULL;
    }
    return hash;
}

/// The items in an order of chance that depends on the seed, what is drawn for, and the order given.
/// std::shuffle differs between libraries; this does not.
template <class Item>
[[nodiscard]] std::vector<Item> drawn(std::vector<Item> items, std::string_view seed, std::string_view what_for) {
    std::mt19937_64 random{mixed(std::string{seed} + "/" + std::string{what_for})};
    for (std::size_t i = items.size(); i > 1; --i) std::swap(items[i - 1], items[random() % i]);
    return items;
}

}  // namespace wm::audit
