#include "screens/take_over_sheet.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("a job of another is taken over by a key, or only looked at") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->with = "Orla Finch";
    glass.world.lock.people = {{"Ode Brannick", "installer", 0}};
    glass.world.lock.person = "Ode Brannick";
    glass.open_check("test-pressure");
    CHECK(glass.says("This job is with Orla Finch"));
    CHECK_FALSE(glass.shows("run/check/keypad/7"));
    REQUIRE(glass.press("take over/take"));
    const auto* taken = glass.last_intent<desk::TakeOverJob>();
    REQUIRE(taken != nullptr);
    CHECK(taken->job == "A-0117");
    REQUIRE(glass.press("take over/only look"));
    (void)glass.frame();
    CHECK_FALSE(glass.says("This job is with Orla Finch"));
    // Whatever is touched enters nothing, and what the other has half typed stays as it is.
    glass.drafts.run.value = "49";
    const auto before = glass.all.size();
    glass.type("7");
    (void)glass.press("run/check/keypad/save");
    (void)glass.frame();
    CHECK(glass.drafts.run.value == "49");
    // What the value would mean is asked once, not in every frame.
    const auto asked = glass.all.size();
    for (int frame = 0; frame < 3; ++frame) (void)glass.frame();
    CHECK(std::none_of(glass.all.begin() + static_cast<std::ptrdiff_t>(asked), glass.all.end(),
                       [](const Request& request) { return std::holds_alternative<AskPreview>(request); }));
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    for (std::size_t i = before; i < glass.all.size(); ++i) CHECK_FALSE(std::holds_alternative<KeepNumber>(glass.all[i]));
    REQUIRE(glass.press("run/next"));
    (void)glass.frame();
    CHECK(glass.drafts.run.check != "test-pressure");
    REQUIRE(glass.press("only looked at/take"));
    (void)glass.frame();
    CHECK(glass.shows("take over/take"));
    REQUIRE(glass.press("take over/only look"));
    // Signing is asked about no second time; another person at work is.
    glass.drafts.screen = Screen::SignOff;
    (void)glass.frame();
    CHECK_FALSE(glass.shows("take over/take"));
    glass.world.lock.person = "Sella Marrow";
    (void)glass.frame();
    CHECK(glass.shows("take over/take"));
}

TEST_CASE("a job of the own crew is not asked about") {
    Glass glass{800.0F, 1280.0F, {}};
    glass.open_check("test-pressure");
    CHECK_FALSE(glass.shows("take over/take"));
}
