// A part of the jobs, chosen by keys.
#include "screens/week_filter.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

void offer(Glass& glass) {
    glass.drafts.screen = Screen::Week;
    auto& choices = glass.world.week->choices;
    choices.crews = {{"Thimblegate", "Thimblegate"}, {"Owlcroft", "Owlcroft"}};
    choices.roofs = {{"slate", "slate"}};
    choices.checks = {{"ins-ends", "Pipe ends closed"}};
}

}  // namespace

TEST_CASE("a crew and four weeks are chosen by keys, and the week is asked for anew") {
    Glass glass{1280.0F, 2400.0F, {}};
    offer(glass);
    REQUIRE(glass.press("week/part"));
    REQUIRE(glass.press("week/filter/choices/Crew/Owlcroft"));
    REQUIRE(glass.press("week/filter/choices/Check/ins-ends"));
    REQUIRE(glass.press("week/filter/choices/Check/ins-ends"));  // and taken back
    REQUIRE(glass.press("week/filter/choices/Weeks/4"));
    CHECK(glass.last<AskWeek>() == nullptr);
    REQUIRE(glass.press("week/filter/show"));
    const auto* ask = glass.last<AskWeek>();
    REQUIRE(ask != nullptr);
    CHECK(ask->week == "2027-W09");
    CHECK(ask->filter == desk::WeekFilterView{.crew = "Owlcroft", .weeks = 4});
    (void)glass.frame();
    CHECK_FALSE(glass.shows("week/filter/show"));
}

TEST_CASE("what part is looked at stands on the screen, stays from week to week, and goes with one key") {
    Glass glass{1280.0F, 2400.0F, {}};
    offer(glass);
    glass.world.week->filter.crew = "Owlcroft";
    glass.world.week->filter.check = "ins-ends";
    (void)glass.frame();
    CHECK(glass.spot("week/part").words.find("Only crew Owlcroft, Pipe ends closed") != std::string::npos);
    REQUIRE(glass.press("week/earlier"));
    CHECK(glass.last<AskWeek>()->filter.crew == "Owlcroft");
    REQUIRE(glass.press("week/part"));
    REQUIRE(glass.press("week/filter/all"));
    CHECK(glass.last<AskWeek>()->filter == desk::WeekFilterView{});
    (void)glass.frame();
    CHECK(filter_in_words(desk::WeekView{}).empty());
}
