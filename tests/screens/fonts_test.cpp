// The fonts hold the letters we write with.
#include "screens/fonts.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("every sign of the screens has a glyph of its own") {
    const Glass glass{1280.0F, 800.0F, {}};
    const ImFont* body = glass.dress.fonts.body;
    for (const int letter : {0x2264, 0x2265, 0x00b7, 0x03a9, 0x0416, 0x2713, 0x26a0, 0x25c0, 0x25b6,
                             0x232b, 0x2212, 0x25a0, 0x00b1, 0x2026}) {
        CAPTURE(letter);
        CHECK(body->FindGlyphNoFallback(static_cast<ImWchar>(letter)) != nullptr);
    }
}

TEST_CASE("words grow with the text size and values do not") {
    const Metrics usual{.px_per_mm = 4.0F, .text_percent = 100};
    const Metrics large{.px_per_mm = 4.0F, .text_percent = 200};
    CHECK(em_px(Face::Body, large) ==
          doctest::Approx(2.0F * em_px(Face::Body, usual)).epsilon(0.05));
    CHECK(em_px(Face::Value, large) == em_px(Face::Value, usual));
}
