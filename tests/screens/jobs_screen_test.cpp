// Jobs.
#include "screens/jobs_screen.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("a touched job is asked for and the run waits for it") {
    Glass glass{1280.0F, 800.0F, {}};
    REQUIRE(glass.press("jobs/list/A-0116"));
    const auto* open = glass.last<OpenJobView>();
    REQUIRE(open != nullptr);
    CHECK(open->job == "A-0116");
    CHECK(glass.drafts.screen == Screen::Run);
    CHECK(glass.says("Opening job A-0116"));
}

TEST_CASE("search finds all words in any order, upper and lower case alike") {
    const desk::JobRow row = testing::sample_world().jobs[0];
    CHECK(matches(row, ""));
    CHECK(matches(row, "imber KETTLE"));
    CHECK(matches(row, "brambl 0117"));
    CHECK_FALSE(matches(row, "imber dovetail"));
}

TEST_CASE("the list follows the search as it is typed") {
    Glass glass{1280.0F, 800.0F, {}};
    REQUIRE(glass.press("jobs/search"));
    glass.type("dovetail");
    CHECK(glass.shows("jobs/list/A-0109"));
    CHECK_FALSE(glass.shows("jobs/list/A-0117"));
}

TEST_CASE("a new job needs a checklist and a facts file") {
    Glass glass{1280.0F, 800.0F, {}};
    REQUIRE(glass.press("jobs/new job"));
    (void)glass.frame();
    CHECK_FALSE(glass.spot("jobs/new/start").enabled);
    REQUIRE(glass.press("jobs/new/commissioning"));
    REQUIRE(glass.press("jobs/new/facts/facts/kettlemark-row-12.toml"));
    REQUIRE(glass.press("jobs/new/practice"));
    REQUIRE(glass.press("jobs/new/start"));
    const auto* start = glass.last<StartJob>();
    REQUIRE(start != nullptr);
    CHECK(start->checklist == "commissioning");
    CHECK(start->facts_path == "facts/kettlemark-row-12.toml");
    CHECK(start->practice);
}

TEST_CASE("the window goes to a new job as soon as it is open") {
    Glass glass{1280.0F, 800.0F, {}};
    REQUIRE(glass.press("jobs/new job"));
    REQUIRE(glass.press("jobs/new/kit"));
    REQUIRE(glass.press("jobs/new/facts/A-0116"));
    REQUIRE(glass.press("jobs/new/start"));
    CHECK(glass.drafts.screen == Screen::Jobs);
    glass.world.job->row.job = "A-0118";
    (void)glass.frame();
    CHECK(glass.drafts.screen == Screen::Run);
}
