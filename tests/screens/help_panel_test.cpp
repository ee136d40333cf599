#include "screens/help_panel.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("one key leads from a check to why and how, and one back with what was typed") {
    Glass glass{1280.0F, 800.0F, {}};
    auto& check = glass.world.job->checks[7];
    REQUIRE(check.id == "test-pressure");
    check.how = "Close the stop valve first.";
    check.pitfall = "A gauge read from the side shows too little.";
    glass.open_check("test-pressure");
    REQUIRE(glass.press("run/check/keypad/4"));
    REQUIRE(glass.press("run/check/how"));
    CHECK(glass.drafts.run.mode == RunMode::Help);
    (void)glass.frame();
    CHECK(glass.says("How it is measured"));
    CHECK(glass.says("Close the stop valve first."));
    CHECK(glass.says("A gauge read from the side shows too little."));
    REQUIRE(glass.press("run/help/back"));
    CHECK(glass.drafts.run.mode == RunMode::Reading);
    CHECK(glass.drafts.run.value == "4");
    REQUIRE(glass.press("run/check/how"));
    glass.strike(GLFW_KEY_ESCAPE);
    CHECK(glass.drafts.run.mode == RunMode::Reading);
}
