// Words on keys and hints in fields: broken off and shrunk until they fit.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "screens/touch.hpp"

namespace wm::screens {

/// Draws `words` within `at`, vertically in the middle. A probe hears of words that do not fit even
/// at the least size; those are drawn clipped.
void draw_label(Touch& touch, std::string_view path, const Rect& at, std::string_view words,
                const LineStyle& style);

/// What is to be written in an empty field. Where the whole would be smaller than small words it is broken off at a comma,
/// and only then shrunk. A probe hears of one that does not fit even so; it is drawn clipped.
/// In full sun it is small, as grey or slanted letters read like typed ones there.
void draw_hint(Touch& touch, std::string_view path, const Rect& at, std::string_view hint);

/// The same once the field is filled, so that it still says what it is for: in letters as high as `at`, broken off like the hint.
void draw_caption(Touch& touch, std::string_view path, const Rect& at, std::string_view hint);

/// Tells the probe of words that the library drew.
void note_written(const Touch& touch, std::string_view path, const Rect& at, std::string_view words);

/// Words of an area that scrolls, and their letters.
struct Paragraph {
    std::string words;
    Face face = Face::Body;
};
/// Pixels that they take from the top of such an area of this width, a bar beside them.
[[nodiscard]] float paragraphs_height(const Touch& touch, float width, const std::vector<Paragraph>& paragraphs);
/// As much of `height` as shows whole lines of them: all of it where they fit, 0 where the first line does not.
[[nodiscard]] float whole_lines(const Touch& touch, float width, float height, const std::vector<Paragraph>& paragraphs);

/// Drops the last words, an ellipsis in their place, until `fits` holds or one word is left: a name is shortened at a word,
/// never within a letter.
template <class Fits>
void shorten(std::string& words, Fits fits) {
    std::string left = words;
    while (!fits()) {
        const std::size_t cut = left.rfind(' ');
        if (cut == std::string::npos) return;
        left.resize(cut);
        words = left + " …";
    }
}
/// Whether one line holds the words, shrunk as far as words may shrink.
[[nodiscard]] bool fits_line(const Touch& touch, const Rect& at, std::string_view words, Face face);
/// Whether they stand in `at` in lines of the size of 100 %.
[[nodiscard]] bool fits_plain(const Touch& touch, const Rect& at, std::string_view words, Face face);

}  // namespace wm::screens
