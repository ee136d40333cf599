// Letters on the glass.
#include "screens/letter_board.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("letters go into the field last written in, capital ones after ABC") {
    Glass glass{1280.0F, 800.0F, {}};
    REQUIRE(glass.press("header/letters"));
    REQUIRE(glass.press("jobs/search"));
    REQUIRE(glass.press("letters/capital"));
    for (const std::string name : {"l", "o", "w", "space", "3", "4", "delete"}) {
        CAPTURE(name);
        REQUIRE(glass.press("letters/" + name));
    }
    (void)glass.frame();
    CHECK(glass.drafts.jobs.search == "Low 3");
    REQUIRE(glass.press("letters/done"));
    (void)glass.frame();
    CHECK_FALSE(glass.shows("letters/a"));
}

TEST_CASE("letter keys are 14 mm on a small standing panel") {
    Glass glass{800.0F, 1280.0F, {.px_per_mm = 5.9F}};
    glass.drafts.board.shown = true;
    (void)glass.frame();
    for (const std::string name : {"letters/a", "letters/0", "letters/space"}) {
        CAPTURE(name);
        CHECK(glass.spot(name).rect.w >= glass.dress.metrics.mm(key_mm) - 1.0F);
        CHECK(glass.spot(name).rect.h >= glass.dress.metrics.mm(key_mm) - 1.0F);
    }
}

TEST_CASE("a finger in a field brings the letters, and they go when a keyboard turns up or Done is pressed") {
    Glass glass{1280.0F, 800.0F, {}};
    REQUIRE(glass.press("jobs/search"));
    (void)glass.frame();
    CHECK(glass.shows("letters/a"));
    REQUIRE(glass.press("letters/done"));
    (void)glass.frame();
    CHECK_FALSE(glass.shows("letters/a"));
    REQUIRE(glass.press("jobs/search"));
    (void)glass.frame();
    REQUIRE(glass.shows("letters/a"));
    glass.type("low");
    (void)glass.frame();
    CHECK_FALSE(glass.shows("letters/a"));
    CHECK(glass.drafts.jobs.search == "low");
    // Who has a keyboard is not offered the glass again.
    REQUIRE(glass.press("jobs/search"));
    (void)glass.frame();
    CHECK_FALSE(glass.shows("letters/a"));
    REQUIRE(glass.press("header/letters"));
    CHECK(glass.shows("letters/a"));
}
