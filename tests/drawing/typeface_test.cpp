#include "drawing/typeface.hpp"

#include <doctest/doctest.h>

using namespace wm::drawing;

TEST_CASE("letter widths are those of the font's own table") {
    // Source: hmtx of DejaVu Sans 2.37: A 1401, i 569, m 1995; Bold A 1585, of 2048 units.
    CHECK(advance_of(U'A', Weight::Regular) == 684);
    CHECK(advance_of(U'i', Weight::Regular) == 278);
    CHECK(advance_of(U'm', Weight::Regular) == 974);
    CHECK(advance_of(U'A', Weight::Bold) == 774);
    CHECK(advance_of(U'i', Weight::Mono) == advance_of(U'W', Weight::Mono));
}

TEST_CASE("a letter outside the table counts as a whole em, never as nothing") {
    CHECK(advance_of(U'\u4e00', Weight::Regular) == 1000);
    CHECK(advance_of(U'\U0001F600', Weight::Bold) == 1000);
}

TEST_CASE("UTF-8 is read letter by letter and broken bytes one at a time") {
    const std::string_view text = "Ω\xff°\xe2\x82";
    std::size_t at = 0;
    CHECK(next_code_point(text, at) == U'Ω');
    CHECK(next_code_point(text, at) == char32_t{0xfffd});
    CHECK(next_code_point(text, at) == U'°');
    CHECK(next_code_point(text, at) == char32_t{0xfffd});
    CHECK(next_code_point(text, at) == char32_t{0xfffd});
    CHECK(at == text.size());
}

TEST_CASE("a line is as wide as its letters together") {
    CHECK(line_width("Am", {10.0}) == doctest::Approx(16.58));
    CHECK(line_width("", {10.0}) == 0.0);
}
