#include "drawing/typeface.hpp"

#include "drawing/typeface_widths.hpp"

namespace wm::drawing {

namespace {

constexpr char32_t replacement = 0xfffd;
constexpr int mono_advance = 602;  // every letter of DejaVu Sans Mono

int continuation_bytes(unsigned char lead) {
    if (lead < 0x80) return 0;
    if (lead >= 0xc2 && lead < 0xe0) return 1;
    if (lead >= 0xe0 && lead < 0xf0) return 2;
    if (lead >= 0xf0 && lead < 0xf5) return 3;
    return -1;
}

bool is_continuation(char byte) {
    return (static_cast<unsigned char>(byte) & 0xc0u) == 0x80u;
}

}  // namespace

char32_t next_code_point(std::string_view text, std::size_t& at) {
    const auto lead = static_cast<unsigned char>(text[at]);
    const int more = continuation_bytes(lead);
    const std::size_t start = at++;
    if (more == 0) return lead;
    if (more < 0 || start + static_cast<std::size_t>(more) >= text.size()) return replacement;
    constexpr unsigned masks[] = {0x7f, 0x1f, 0x0f, 0x07};
    char32_t letter = lead & masks[more];
    for (int i = 0; i < more; ++i) {
        if (!is_continuation(text[at])) {
            at = start + 1;
            return replacement;
        }
        letter = (letter << 6) | (static_cast<unsigned char>(text[at++]) & 0x3fu);
    }
    return letter;
}

int advance_of(char32_t letter, Weight weight) {
    if (weight == Weight::Mono) return mono_advance;
    const auto& table = weight == Weight::Bold ? widths::bold : widths::regular;
    std::size_t base = 0;
    for (const auto& range : widths::ranges) {
        if (letter >= range.first && letter < char32_t{range.first} + range.count) {
            return table[base + (letter - range.first)];
        }
        base += range.count;
    }
    return 1000;
}

double line_width(std::string_view words, const TextStyle& style) {
    int thousandths = 0;
    for (std::size_t at = 0; at < words.size();) {
        thousandths += advance_of(next_code_point(words, at), style.weight);
    }
    return style.size_mm * thousandths / 1000.0;
}

}  // namespace wm::drawing
