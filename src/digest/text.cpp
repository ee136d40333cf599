#include "digest/text.hpp"

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <optional>

#include "digest/text_table.hpp"

namespace wm::digest {
namespace {

/// The code point that starts at `at`, which moves past it; nullopt for broken UTF-8.
std::optional<char32_t> next_point(std::string_view text, std::size_t& at) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char first = byte(at);
    if (first < 0x80) {
        ++at;
        return first;
    }
    const std::size_t length = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
    if (first < 0xc2 || first > 0xf4 || at + length > text.size()) return std::nullopt;
    char32_t point = first & (0xffU >> (length + 1));
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(at + i) & 0xc0U) != 0x80U) return std::nullopt;
        point = (point << 6) | (byte(at + i) & 0x3fU);
    }
    constexpr char32_t smallest[] = {0, 0, 0x80, 0x800, 0x10000};
    if (point < smallest[length] || point > 0x10ffff) return std::nullopt;
    if (point >= 0xd800 && point <= 0xdfff) return std::nullopt;
    at += length;
    return point;
}

std::optional<char32_t> together(char32_t base, char32_t mark) {
    if (base > 0xffff || mark < 0x300 || mark > 0xffff) return std::nullopt;
    const auto found =
        std::lower_bound(compositions.begin(), compositions.end(), std::pair{base, mark},
                         [](const Composition& c, const std::pair<char32_t, char32_t>& wanted) {
                             return std::pair<char32_t, char32_t>{c.base, c.mark} < wanted;
                         });
    if (found == compositions.end() || found->base != base || found->mark != mark)
        return std::nullopt;
    return found->letter;
}

char32_t respelt(char32_t sign) {
    const auto found =
        std::lower_bound(respellings.begin(), respellings.end(), sign,
                         [](const Respelling& r, char32_t wanted) { return r.sign < wanted; });
    return found != respellings.end() && found->sign == sign ? found->letter : sign;
}

/// Moves past ASCII, eight letters at a time: the way of nearly every text.
std::size_t past_ascii(std::string_view text, std::size_t at) {
    constexpr std::uint64_t beyond = 0x8080808080808080U;
    for (; at + sizeof(std::uint64_t) <= text.size(); at += sizeof(std::uint64_t)) {
        std::uint64_t eight = 0;
        std::memcpy(&eight, text.data() + at, sizeof eight);
        if ((eight & beyond) != 0) break;
    }
    while (at < text.size() && static_cast<unsigned char>(text[at]) < 0x80) ++at;
    return at;
}

/// Nothing below U+0300 can need composing: a fast way out for nearly every text.
bool has_nothing_to_compose(std::string_view text) {
    for (std::size_t at = past_ascii(text, 0); at < text.size(); at = past_ascii(text, at + 1))
        if (static_cast<unsigned char>(text[at]) >= 0xcc) return false;
    return true;
}

}  // namespace

void append_utf8(std::string& text, char32_t point) {
    const auto put = [&](char32_t bits) {
        text += static_cast<char>(static_cast<unsigned char>(bits));
    };
    if (point < 0x80) {
        put(point);
    } else if (point < 0x800) {
        put(0xc0U | (point >> 6));
        put(0x80U | (point & 0x3fU));
    } else if (point < 0x10000) {
        put(0xe0U | (point >> 12));
        put(0x80U | ((point >> 6) & 0x3fU));
        put(0x80U | (point & 0x3fU));
    } else {
        put(0xf0U | (point >> 18));
        put(0x80U | ((point >> 12) & 0x3fU));
        put(0x80U | ((point >> 6) & 0x3fU));
        put(0x80U | (point & 0x3fU));
    }
}

bool is_utf8(std::string_view text) {
    for (std::size_t at = past_ascii(text, 0); at < text.size(); at = past_ascii(text, at)) {
        if (!next_point(text, at)) return false;
    }
    return true;
}

std::string composed(std::string_view text) {
    if (has_nothing_to_compose(text) || !is_utf8(text)) return std::string{text};
    std::u32string points;
    for (std::size_t at = 0; at < text.size();) {
        const char32_t point = respelt(*next_point(text, at));
        const auto joined = points.empty() ? std::nullopt : together(points.back(), point);
        if (joined) {
            points.back() = *joined;
        } else {
            points += point;
        }
    }
    std::string out;
    for (const char32_t point : points) append_utf8(out, point);
    return out;
}

bool is_composed(std::string_view utf8) {
    return has_nothing_to_compose(utf8) || composed(utf8) == utf8;
}

}  // namespace wm::digest
