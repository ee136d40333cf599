#include "screens/record_panel.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

void give_history(Glass& glass) {
    for (auto& check : glass.world.job->checks) {
        if (check.id != "test-pressure") continue;
        desk::ReadingView failed;
        failed.text = "27 kPa";
        failed.outcome = measure::Outcome::DoesNotConform;
        failed.by = "Tindo Quellaby";
        failed.at = "2026-11-25 09:10";
        failed.superseded = true;
        desk::ReadingView after = failed;
        after.text = "470 kPa";
        after.outcome = measure::Outcome::Conforms;
        after.superseded = false;
        after.done = "the joint at the cold feed made again";
        after.time_by_hand = true;
        after.entered_at = "2026-11-25 18:40";
        check.readings = {failed, after};
    }
}

}  // namespace

TEST_CASE("a failure that was put right can be seen with what was done, by whom and when, and nothing is entered by looking") {
    Glass glass{1280.0F, 800.0F, {}};
    give_history(glass);
    glass.open_check("test-pressure");
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/record"));
    (void)glass.frame();
    CHECK(glass.says("27 kPa · does not conform · a later one stands"));
    CHECK(glass.says("Put right: the joint at the cold feed made again"));
    CHECK(glass.says("Tindo Quellaby, 2026-11-25 09:10"));
    CHECK(glass.says("Tindo Quellaby, 2026-11-25 09:10, entered 2026-11-25 18:40"));
    CHECK(glass.says("Times given by hand, not read from a clock: 1 of 2 here."));
    CHECK_FALSE(glass.shows("run/check/keypad/7"));
    REQUIRE(glass.press("run/record/back"));
    (void)glass.frame();
    CHECK(glass.drafts.run.mode == RunMode::Reading);
}

TEST_CASE("a check without an entry says so") {
    Glass glass{800.0F, 1280.0F, {}};
    for (auto& check : glass.world.job->checks) check.readings.clear();
    glass.open_check("test-pressure");
    glass.drafts.run.mode = RunMode::Record;
    (void)glass.frame();
    CHECK(glass.says("Nothing was entered here."));
}
