#include "screens/pin_pad.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("no letter of a PIN is cut in the middle, and it ends at 200 bytes") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.lock.people = {{"Tindo Quellaby", "owner", 0}};
    (void)glass.frame();
    glass.type("ä");
    CHECK(glass.drafts.lock.pin == "ä");
    glass.strike(GLFW_KEY_BACKSPACE);
    CHECK(glass.drafts.lock.pin.empty());
    glass.strike(GLFW_KEY_BACKSPACE);
    CHECK(glass.drafts.lock.pin.empty());
    for (int i = 0; i < 30; ++i) glass.type("12345678");
    CHECK(glass.drafts.lock.pin.size() == 200);
}

TEST_CASE("an empty PIN is not sent") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.lock.people = {{"Tindo Quellaby", "owner", 0}};
    (void)glass.frame();
    glass.strike(GLFW_KEY_ENTER);
    (void)glass.press("lock/pin/done");
    CHECK(glass.last<Unlock>() == nullptr);
}
