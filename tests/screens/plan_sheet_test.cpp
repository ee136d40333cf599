#include "screens/plan_sheet.hpp"

#include <doctest/doctest.h>

#include "screens/more_panel.hpp"
#include "screens/plan_sample.hpp"
#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("the days ahead are asked for, shown by day with what is wrong by then, and a touch opens the job") {
    Glass glass{1280.0F, 800.0F, {}};
    const std::string today = glass.world.moment.now.substr(0, 10);
    REQUIRE(glass.press("jobs/list/days"));
    const auto* asked = glass.last<AskPlan>();
    REQUIRE(asked != nullptr);
    CHECK(asked->first == today);
    CHECK(units::days_between(asked->first, asked->last) == 6);
    CHECK_FALSE(glass.spot("jobs/plan/calendar").enabled);
    CHECK(glass.says("being looked through"));
    glass.all.clear();
    (void)glass.frame();
    CHECK(glass.last<AskPlan>() == nullptr);

    glass.world.plan = testing::a_day_plan(today);
    (void)glass.frame();
    CHECK(glass.says(weekday_of(today) + ' ' + today));
    CHECK(weekday_of("2027-03-18") == "Thursday");
    CHECK(glass.says("Not in order by then. Instruments are in date: torque wrench TW-3"));
    CHECK(glass.says("at most 10.0 m/s"));
    CHECK(glass.says("Load: 10.7 m Copper pipe of the loop, 22 mm outside; ? Brackets"));
    CHECK(glass.says("Take: torque wrench; two-channel thermometer"));
    CHECK(glass.says("Put off, due by then"));
    REQUIRE(glass.press("jobs/plan/calendar"));
    REQUIRE(glass.last<SavePlan>() != nullptr);
    CHECK(glass.last<SavePlan>()->first == today);
    REQUIRE(glass.press("jobs/plan/days/A-0121"));
    REQUIRE(glass.last<OpenJobView>() != nullptr);
    CHECK(glass.last<OpenJobView>()->job == "A-0121");
}

TEST_CASE("a week on is asked for anew, the plan of another week is not shown for it, and before today there is none") {
    Glass glass{800.0F, 1280.0F, {}};
    const std::string today = glass.world.moment.now.substr(0, 10);
    REQUIRE(glass.press("jobs/list/days"));
    glass.world.plan = testing::a_day_plan(today);
    (void)glass.frame();
    CHECK(glass.shows("jobs/plan/days/A-0121"));
    CHECK_FALSE(glass.spot("jobs/plan/earlier").enabled);
    REQUIRE(glass.press("jobs/plan/later"));
    REQUIRE(glass.last<AskPlan>() != nullptr);
    CHECK(glass.last<AskPlan>()->first == units::day_after(today, 7));
    CHECK_FALSE(glass.shows("jobs/plan/days/A-0121"));
    REQUIRE(glass.press("jobs/plan/earlier"));
    CHECK(glass.last<AskPlan>()->first == today);
    CHECK(glass.shows("jobs/plan/days/A-0121"));
    REQUIRE(glass.press("jobs/plan/back"));
    CHECK(glass.shows("jobs/list/days"));
}

TEST_CASE("the search leaves the jobs of one lead, also among what was put off") {
    Glass glass{1280.0F, 800.0F, {}};
    const std::string today = glass.world.moment.now.substr(0, 10);
    REQUIRE(glass.press("jobs/list/days"));
    glass.world.plan = testing::a_day_plan(today);
    glass.drafts.jobs.search = "quellaby";
    (void)glass.frame();
    (void)glass.frame();
    CHECK(glass.shows("jobs/plan/days/A-0121"));
    CHECK_FALSE(glass.shows("jobs/plan/days/A-0122"));
    CHECK_FALSE(glass.shows("jobs/plan/days/A-0109/outlet-temp"));
    glass.drafts.jobs.search = "orla";
    (void)glass.frame();
    (void)glass.frame();
    CHECK(glass.shows("jobs/plan/days/A-0109/outlet-temp"));
    CHECK(glass.says("No job of this week has all of these words."));
}
