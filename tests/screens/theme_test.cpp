// The looks are readable and the sizes fit the panel.
#include "screens/theme.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("every pair of letters and ground in every look reaches 7 to 1") {
    // Source: WCAG 2.1 success criterion 1.4.6, enhanced contrast, 7 : 1.
    for (const Look look : {Look::Day, Look::Night, Look::Sun}) {
        CAPTURE(in_words(look));
        for (const TextPair& pair : text_pairs(theme_of(look))) {
            CAPTURE(pair.name);
            CHECK(drawing::contrast(pair.letters, pair.ground) >= 7.0);
        }
    }
}

TEST_CASE("the sun look is pure black on white") {
    const Theme sun = theme_of(Look::Sun);
    CHECK(drawing::contrast(sun.text, sun.paper) == doctest::Approx(21.0).epsilon(0.001));
    CHECK(sun.line_mm > theme_of(Look::Day).line_mm);
}

TEST_CASE("task text has capitals of 4.4 mm") {
    // Capitals are 0.729 of the em in DejaVu Sans (cap height 1493 of 2048 units).
    CHECK(body_em_mm * 1493.0F / 2048.0F >= 4.4F);
}

TEST_CASE("a panel large enough keeps its millimetres and a small one shrinks") {
    const Metrics usual{.px_per_mm = 3.78F};
    CHECK(fitted(usual, 1280.0F, 800.0F).px_per_mm == doctest::Approx(3.78F));
    CHECK(fitted(usual, 800.0F, 1280.0F).px_per_mm == doctest::Approx(3.78F));
    const Metrics small = fitted(usual, 640.0F, 400.0F);
    CHECK(small.px_per_mm < 3.78F);
    CHECK(small.mm(132.0F) <= doctest::Approx(400.0F));
}
