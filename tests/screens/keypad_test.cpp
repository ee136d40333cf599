// Values, placement and pressing of keys.
#include "screens/keypad.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

void open_torque(Glass& glass) {
    glass.open_check("anchor-torque");
}

}  // namespace

TEST_CASE("pressing 2 3 point 5 and save enters 23.5 for the place at hand") {
    Glass glass{1280.0F, 800.0F, {}};
    open_torque(glass);
    for (const std::string name : {"2", "3", ".", "5", "save"}) {
        REQUIRE(glass.press("run/check/keypad/" + name));
    }
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "23.5");
    CHECK(reading->job == "A-0117");
    CHECK(reading->check == "anchor-torque");
    CHECK(reading->place == "2");
    CHECK(reading->instrument == "TW-1");
    CHECK_FALSE(reading->sure);
}

TEST_CASE("a typed comma stays a comma in what is entered") {
    Glass glass{1280.0F, 800.0F, {}};
    open_torque(glass);
    glass.type("19,5");
    CHECK(glass.drafts.run.value == "19,5");
    glass.strike(GLFW_KEY_ENTER);
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "19,5");
}

TEST_CASE("a second decimal mark is not taken") {
    Glass glass{1280.0F, 800.0F, {}};
    open_torque(glass);
    glass.type("1.2,3.4");
    CHECK(glass.drafts.run.value == "1.234");
}

TEST_CASE("the sign key turns the sign and back again") {
    Glass glass{1280.0F, 800.0F, {}};
    open_torque(glass);
    glass.type("5");
    REQUIRE(glass.press("run/check/keypad/sign"));
    CHECK(glass.drafts.run.value == "-5");
    REQUIRE(glass.press("run/check/keypad/sign"));
    CHECK(glass.drafts.run.value == "5");
}

TEST_CASE("delete and Backspace take the last sign away") {
    Glass glass{1280.0F, 800.0F, {}};
    open_torque(glass);
    glass.type("123");
    REQUIRE(glass.press("run/check/keypad/delete"));
    CHECK(glass.drafts.run.value == "12");
    glass.strike(GLFW_KEY_BACKSPACE);
    CHECK(glass.drafts.run.value == "1");
}

TEST_CASE("nothing typed cannot be saved") {
    Glass glass{1280.0F, 800.0F, {}};
    open_torque(glass);
    (void)glass.press("run/check/keypad/save");
    glass.strike(GLFW_KEY_ENTER);
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
}

TEST_CASE("7 8 9 stand above 4 5 6 above 1 2 3") {
    Glass glass{1280.0F, 800.0F, {}};
    open_torque(glass);
    const auto y = [&](const char* name) {
        return glass.spot(std::string{"run/check/keypad/"} + name).rect.y;
    };
    CHECK(y("7") == y("9"));
    CHECK(y("7") < y("4"));
    CHECK(y("4") < y("1"));
    CHECK(y("1") < y("0"));
}
