// Letters that DejaVu builds from letters that are built themselves.
//
// The page library embeds only what is used: a letter and its parts, and not the parts of those. Such a letter then
// stands in the file as text and is blank on the page. Asking the library for a part brings that part's own parts in.
// Source: the glyf tables of DejaVu 2.37 (Sans, Bold and Mono), Latin Extended-A, Greek and Cyrillic.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

namespace wm::handover {

struct LetterParts {
    std::uint16_t letter;
    std::string_view parts;
};

/// In order of letters.
inline constexpr std::array<LetterParts, 59> letters_of_parts{{
    {0x0149, "\u02bc"}, {0x0161, "\u030c"}, {0x0385, "΄"}, {0x0386, "΄Α"}, {0x0388, "΄Ε"},
    {0x0389, "΄Η"}, {0x038a, "΄Ι"}, {0x038c, "΄Ο"}, {0x038e, "΄Υ"}, {0x038f, "΄"},
    {0x0390, "΅΄"}, {0x03aa, "Ι"}, {0x03ab, "Υ"}, {0x03ac, "΄"}, {0x03ad, "΄ε"},
    {0x03ae, "΄"}, {0x03af, "΄"}, {0x03b0, "΅΄"}, {0x03cc, "΄ο"}, {0x03cd, "΄"},
    {0x03ce, "΄"}, {0x03d3, "΄"}, {0x03fe, "Ϲ"}, {0x03ff, "Ͻ"}, {0x0400, "Е"},
    {0x0401, "Е"}, {0x0407, "ÏІ"}, {0x040c, "К"}, {0x042b, "І"}, {0x0450, "е"},
    {0x0451, "е"}, {0x0457, "ï"}, {0x045c, "к"}, {0x045e, "у"}, {0x047f, "ѡ"},
    {0x0498, "З"}, {0x0499, "з"}, {0x04aa, "С"}, {0x04ab, "с"}, {0x04d0, "А"},
    {0x04d1, "а"}, {0x04d2, "А"}, {0x04d3, "а"}, {0x04d6, "Е"}, {0x04d7, "е"},
    {0x04da, "Ә"}, {0x04db, "ә"}, {0x04de, "З"}, {0x04df, "з"}, {0x04e6, "О"},
    {0x04e7, "о"}, {0x04ea, "Ө"}, {0x04eb, "ө"}, {0x04ef, "у"}, {0x04f1, "у"},
    {0x04f3, "у"}, {0x04f8, "ЫІ"}, {0x04f9, "ы"}, {0x0511, "ε"},
}};

/// "" for a letter that needs nothing.
[[nodiscard]] constexpr std::string_view parts_of(char32_t letter) {
    for (const LetterParts& row : letters_of_parts) {
        if (row.letter == letter) return row.parts;
    }
    return {};
}

static_assert(parts_of(U'\u0457') == "ï");
static_assert(parts_of(U'a').empty());

}  // namespace wm::handover
