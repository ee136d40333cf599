// Moving through a run.
#include "screens/run_screen.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("an opened job starts at its first open check") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->checks[0].outcome = measure::Outcome::Conforms;
    glass.drafts.screen = Screen::Run;
    (void)glass.frame();
    CHECK(glass.drafts.run.check == "goods-scan");
}

TEST_CASE("a stage key goes to the first open check of its stage") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    REQUIRE(glass.press("run/stage/G"));
    CHECK(glass.drafts.run.check == "test-pressure");
}

TEST_CASE("next and back pass over checks that do not apply") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->checks[1].applies = false;
    glass.open_check("fall-protection");
    REQUIRE(glass.press("run/next"));
    CHECK(glass.drafts.run.check == "goods-scan");
    REQUIRE(glass.press("run/previous"));
    CHECK(glass.drafts.run.check == "fall-protection");
}

TEST_CASE("a small panel reaches stages, list and drawing through keys of the bottom row") {
    Glass glass{800.0F, 1280.0F, {.px_per_mm = 5.9F}};
    glass.open_check("fall-protection");
    CHECK_FALSE(glass.shows("run/stage/G"));
    REQUIRE(glass.press("run/stages"));
    REQUIRE(glass.press("run/stage/G"));
    CHECK(glass.drafts.run.check == "test-pressure");
    REQUIRE(glass.press("run/plant"));
    (void)glass.frame();
    CHECK(glass.shows("run/sheet/test-hold"));
}

TEST_CASE("without a job the screen says where to find one") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job.reset();
    glass.drafts.screen = Screen::Run;
    (void)glass.frame();
    CHECK(glass.says("No job is open."));
}

TEST_CASE("a check asked for in another job waits until that job is open") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Run;
    glass.drafts.run.wanted = WantedCheck{"A-0099", "test-hold", RunMode::Reading};
    (void)glass.frame();
    CHECK(glass.says("Opening job A-0099"));
    glass.world.job->row.job = "A-0099";
    (void)glass.frame();
    CHECK(glass.drafts.run.check == "test-hold");
}
