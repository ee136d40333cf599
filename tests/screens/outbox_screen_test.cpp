// Outbox.
#include "screens/outbox_screen.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("a message says how it stands, when it is tried next and what the server answered") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Outbox;
    (void)glass.frame();
    CHECK(glass.says("waiting: the mail server did not answer"));
    CHECK(glass.says("tried 2 times"));
    CHECK(glass.says("next try 14:05"));
    CHECK(glass.says("timed out after 30 s"));
}

TEST_CASE("sending and saving are asked for, and not offered when nothing waits") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Outbox;
    REQUIRE(glass.press("outbox/send"));
    CHECK(glass.last<SendPost>() != nullptr);
    REQUIRE(glass.press("outbox/save"));
    CHECK(glass.last<SavePost>() != nullptr);
    glass.world.messages.clear();
    (void)glass.frame();
    CHECK_FALSE(glass.spot("outbox/send").enabled);
}
