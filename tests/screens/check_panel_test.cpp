// One check and its entry areas.
#include "screens/check_panel.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("pressing yes takes the reading yes") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    REQUIRE(glass.press("run/check/yes"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->check == "fall-protection");
    CHECK(reading->text == "yes");
}

TEST_CASE("a choice enters the words of the checklist, whichever they are") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("discharge-pipe");
    REQUIRE(glass.press("run/check/answers/plastic"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "plastic");
}

TEST_CASE("a number key chooses the answer of that place") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("discharge-pipe");
    glass.type("3");
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    glass.strike(GLFW_KEY_ENTER);
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "ends on the roof");
}

TEST_CASE("a choice without places offers the answers of the check itself") {
    Glass glass{1280.0F, 800.0F, {}};
    for (auto& check : glass.world.job->checks) {
        if (check.id != "discharge-pipe") continue;
        check.accepted = {"metal"};
        check.refused = {"plastic"};
        check.places.clear();
    }
    glass.open_check("discharge-pipe");
    CHECK(glass.shows("run/check/answers/metal"));
    REQUIRE(glass.press("run/check/answers/plastic"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "plastic");
}

TEST_CASE("a check that does not conform says why and what to do now") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("discharge-pipe");
    CHECK(glass.says("The pipe is plastic: steam softens it."));
    CHECK(glass.says("To do now: Lay it again in metal"));
}

TEST_CASE("caution, waiting hold points and missing facts are shown") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    CHECK(glass.says("No one goes up before this is answered with yes."));
    glass.open_check("open-items");
    CHECK(glass.says("Waits for the hold point: Pressure holds for ten minutes."));
    glass.open_check("coll-tilt");
    CHECK(glass.says("Cannot be judged yet: intended tilt (sys.tilt_target) is not known."));
}

TEST_CASE("a correction asks what was done before it takes the new reading") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("discharge-pipe");
    REQUIRE(glass.press("run/corrected"));
    (void)glass.frame();
    const std::string good = "run/check/answers/metal, full bore, falls all the way to a seen end";
    CHECK_FALSE(glass.spot(good).enabled);
    REQUIRE(glass.press("run/check/done"));
    glass.type("laid again in copper");
    REQUIRE(glass.press(good));
    const auto* fault = glass.last_intent<desk::CorrectFault>();
    REQUIRE(fault != nullptr);
    CHECK(fault->done == "laid again in copper");
    CHECK(fault->reading.text == "metal, full bore, falls all the way to a seen end");
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
}

TEST_CASE("a conflict shows both readings and keeps the one a person chooses") {
    Glass glass{1280.0F, 800.0F, {}};
    testing::open_conflict(glass);
    CHECK(glass.shows("run/check/conflict/readings/aa11"));
    REQUIRE(glass.press("run/check/conflict/readings/bb22"));
    const auto* resolved = glass.last_intent<desk::ResolveConflict>();
    REQUIRE(resolved != nullptr);
    CHECK(resolved->keep == "bb22");
}

TEST_CASE("a computed check offers nothing to enter") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("open-items");
    CHECK(glass.says("Nothing to enter"));
}
