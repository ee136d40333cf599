#include "photo/png_whole.hpp"

#include <array>
#include <cstddef>
#include <cstdint>

namespace wm::photo {

namespace {

constexpr std::string_view signature{"\x89PNG\r\n\x1a\n", 8};

constexpr std::array<std::uint32_t, 256> checksum_table = [] {
    std::array<std::uint32_t, 256> table{};
    for (std::uint32_t n = 0; n < 256; ++n) {
        std::uint32_t c = n;
        for (int k = 0; k < 8; ++k) c = (c & 1u) != 0 ? 0xedb88320u ^ (c >> 1) : c >> 1;
        table[n] = c;
    }
    return table;
}();

std::uint32_t checksum(std::string_view bytes) {
    std::uint32_t c = 0xffffffffu;
    for (const char byte : bytes) {
        c = checksum_table[(c ^ static_cast<unsigned char>(byte)) & 0xffu] ^ (c >> 8);
    }
    return c ^ 0xffffffffu;
}

std::uint32_t big_endian(std::string_view four) {
    std::uint32_t value = 0;
    for (const char byte : four) value = (value << 8) | static_cast<unsigned char>(byte);
    return value;
}

}  // namespace

bool begins_as_png(std::string_view bytes) {
    return bytes.substr(0, 8) == signature;
}

bool is_whole_png(std::string_view bytes) {
    if (!begins_as_png(bytes)) return false;
    std::string_view rest = bytes.substr(signature.size());
    while (rest.size() >= 12) {
        const std::size_t length = big_endian(rest.substr(0, 4));
        if (length > rest.size() - 12) return false;
        const std::string_view body = rest.substr(4, 4 + length);
        if (checksum(body) != big_endian(rest.substr(8 + length, 4))) return false;
        rest.remove_prefix(12 + length);
        if (body.substr(0, 4) == "IEND") return rest.empty();
    }
    return false;
}

}  // namespace wm::photo
