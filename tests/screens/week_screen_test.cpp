// Week audit.
#include "screens/week_screen.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("what could hurt someone stands above everything else of the week") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Week;
    (void)glass.frame();
    const float severe = glass.spot("week/first/severe/A-0112 outlet-temp").rect.y;
    CHECK(severe < glass.spot("week/first/findings/1 Thimblegate").rect.y);
    CHECK(severe < glass.spot("week/first/samples/A-0111").rect.y);
}

TEST_CASE("a finding shows the jobs behind it and a job can be opened from there") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Week;
    REQUIRE(glass.press("week/first/findings/1 Thimblegate"));
    REQUIRE(glass.press("week/jobs of/list/A-0110"));
    const auto* open = glass.last<OpenJobView>();
    REQUIRE(open != nullptr);
    CHECK(open->job == "A-0110");
}

TEST_CASE("an open item leads to its check in its job") {
    Glass glass{1280.0F, 1600.0F, {}};
    glass.drafts.screen = Screen::Week;
    REQUIRE(glass.press("week/first/open/A-0098 temp-rise"));
    REQUIRE(glass.drafts.run.wanted);
    CHECK(glass.drafts.run.wanted->job == "A-0098");
    CHECK(glass.drafts.run.wanted->check == "temp-rise");
}

TEST_CASE("earlier asks for the week before, and after the last week there is no later one") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Week;
    REQUIRE(glass.press("week/earlier"));
    const auto* ask = glass.last<AskWeek>();
    REQUIRE(ask != nullptr);
    CHECK(ask->week == "2027-W08");
    CHECK_FALSE(glass.spot("week/later").enabled);
}

TEST_CASE("a finding leads to a corrective action in two touches") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Week;
    REQUIRE(glass.press("week/first/findings/1 Thimblegate"));
    REQUIRE(glass.press("week/jobs of/act"));
    (void)glass.frame();
    CHECK(glass.drafts.week.action.is_open);
    CHECK(glass.drafts.week.action.intent.subject == "Thimblegate");
    CHECK(glass.drafts.week.action.intent.week == "2027-W09");
}

TEST_CASE("a sample becomes a visit at a touch, and a planned one is shown") {
    Glass glass{1280.0F, 1600.0F, {}};
    glass.drafts.screen = Screen::Week;
    REQUIRE(glass.press("week/first/samples/A-0111/visit"));
    const auto* visit = glass.last_intent<desk::OpenRevisit>();
    REQUIRE(visit != nullptr);
    CHECK(visit->job == "A-0111");
    REQUIRE(glass.press("week/first/samples/A-0107/visit"));
    const auto* open = glass.last<OpenJobView>();
    REQUIRE(open != nullptr);
    CHECK(open->job == "A-0120");
}
