// Series on the glass.
#include "screens/series_panel.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

void start(Glass& glass) {
    glass.open_check("test-hold");
    REQUIRE(glass.press("run/check/series/start"));
}

}  // namespace

TEST_CASE("starting a series keeps it at once") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    const auto* kept = glass.last<KeepSeries>();
    REQUIRE(kept != nullptr);
    REQUIRE(kept->runs.size() == 1);
    CHECK(kept->runs[0].check == "test-hold");
    CHECK(kept->runs[0].started_s == glass.world.moment.epoch_s);
}

TEST_CASE("readings are stamped with the time they were typed and saved as one text") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    glass.type("478");
    glass.strike(GLFW_KEY_ENTER);
    glass.world.moment.epoch_s += 120;
    glass.type("477");
    glass.strike(GLFW_KEY_ENTER);
    REQUIRE(glass.press("run/check/series/finish"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->check == "test-hold");
    CHECK(reading->text == "0 min=478 kPa; 2 min=477 kPa");
    CHECK(glass.drafts.series.empty());
}

TEST_CASE("a reading beside the series is typed after its key was pressed") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    REQUIRE(glass.press("run/check/series/to water start"));
    glass.type("18.2");
    glass.strike(GLFW_KEY_ENTER);
    CHECK(glass.drafts.series.at(0).extras.at(0).second == "18.2");
    CHECK(glass.drafts.series.at(0).rows.empty());
}

TEST_CASE("the strip of a running series stays on other checks and screens and leads back") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    glass.open_check("fall-protection");
    CHECK(glass.shows("due/test-hold"));
    glass.drafts.screen = Screen::Outbox;
    (void)glass.frame();
    REQUIRE(glass.press("due/test-hold"));
    CHECK(glass.drafts.screen == Screen::Run);
    CHECK(glass.drafts.run.check == "test-hold");
}

TEST_CASE("a due reading rings once") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    glass.type("478");
    glass.strike(GLFW_KEY_ENTER);
    glass.all.clear();
    glass.world.moment.epoch_s += 121;
    for (int i = 0; i < 5; ++i) (void)glass.frame();
    int rings = 0;
    for (const Request& request : glass.all) {
        if (std::holds_alternative<RingDue>(request)) ++rings;
    }
    CHECK(rings == 1);
}
