#include "drawing/palette.hpp"

#include <doctest/doctest.h>

using namespace wm::drawing;

TEST_CASE("black on white has the contrast 21 to 1") {
    // Source: WCAG 2.1, the largest possible ratio.
    CHECK(contrast({0, 0, 0}, {255, 255, 255}) == doctest::Approx(21.0));
}

TEST_CASE("words on a page reach 7 to 1 on paper and on a tinted panel") {
    for (const Ink ground : {Ink::Paper, Ink::Tint}) {
        for (const Ink words :
             {Ink::Text, Ink::Faint, Ink::Good, Ink::Bad, Ink::Unsure, Ink::Waiting, Ink::Accent}) {
            CAPTURE(static_cast<int>(words));
            CHECK(contrast(paper_colour(words), paper_colour(ground)) >= 7.0);
        }
    }
}
