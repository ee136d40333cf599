#include "screens/access_screen.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

void open_pins(Glass& glass, std::string at_work) {
    if (!at_work.empty())
        glass.world.lock.people = {{"Tindo Quellaby", "owner", 0}, {"Ode Brannick", "installer", 0}};
    glass.world.lock.person = std::move(at_work);
    glass.drafts.screen = Screen::Settings;
    (void)glass.frame();
    REQUIRE(glass.press("settings/page/access"));
}

void type_pin(Glass& glass, const char* pin) {
    glass.type(pin);
    REQUIRE(glass.press("settings/access/pin/done"));
}

}  // namespace

TEST_CASE("the first PIN is set by name, twice the same, and its person is an owner") {
    Glass glass{1280.0F, 800.0F, {}};
    open_pins(glass, "");
    REQUIRE(glass.press("settings/access/people/add"));
    REQUIRE(glass.press("settings/access/name"));
    glass.type("Sella Marrow");
    REQUIRE(glass.press("settings/access/on"));
    (void)glass.frame();
    type_pin(glass, "481592");
    type_pin(glass, "481593");
    CHECK(glass.last<GivePin>() == nullptr);
    CHECK(glass.says("The two were not the same."));
    type_pin(glass, "481592");
    type_pin(glass, "481592");
    const auto* given = glass.last<GivePin>();
    REQUIRE(given != nullptr);
    CHECK(given->own_pin.empty());
    CHECK(given->name == "Sella Marrow");
    CHECK(given->role == "owner");
    CHECK(given->pin == "481592");
    CHECK(glass.drafts.access.new_pin.empty());
    CHECK(glass.drafts.access.step == AccessStep::People);
}

TEST_CASE("an installer changes the own PIN, after the present one, and nobody else's") {
    Glass glass{800.0F, 1280.0F, {}};
    open_pins(glass, "Ode Brannick");
    CHECK_FALSE(glass.shows("settings/access/people/add"));
    CHECK_FALSE(glass.shows("settings/access/people/Tindo Quellaby/away"));
    (void)glass.press("settings/access/people/Tindo Quellaby/change");
    CHECK(glass.drafts.access.step == AccessStep::People);
    REQUIRE(glass.press("settings/access/people/Ode Brannick/change"));
    type_pin(glass, "111222");
    type_pin(glass, "481592");
    type_pin(glass, "481592");
    const auto* given = glass.last<GivePin>();
    REQUIRE(given != nullptr);
    CHECK(given->own_pin == "111222");
    CHECK(given->name == "Ode Brannick");
    CHECK(given->role == "installer");
    CHECK(given->pin == "481592");
}

TEST_CASE("an owner gives another a role and a PIN, and takes one away") {
    Glass glass{1280.0F, 800.0F, {}};
    open_pins(glass, "Tindo Quellaby");
    REQUIRE(glass.press("settings/access/people/add"));
    REQUIRE(glass.press("settings/access/name"));
    glass.type("Sella Marrow");
    REQUIRE(glass.press("settings/access/on"));
    REQUIRE(glass.press("settings/access/roles/lead"));
    type_pin(glass, "111222");
    type_pin(glass, "481592");
    type_pin(glass, "481592");
    REQUIRE(glass.last<GivePin>() != nullptr);
    CHECK(glass.last<GivePin>()->role == "lead");
    REQUIRE(glass.press("settings/access/people/Ode Brannick/away"));
    type_pin(glass, "111222");
    const auto* taken = glass.last<TakePinAway>();
    REQUIRE(taken != nullptr);
    CHECK(taken->name == "Ode Brannick");
    CHECK(taken->own_pin == "111222");
}

TEST_CASE("Back and Escape leave a change and keep no PIN") {
    Glass glass{1280.0F, 800.0F, {}};
    open_pins(glass, "Tindo Quellaby");
    REQUIRE(glass.press("settings/access/people/Tindo Quellaby/change"));
    glass.type("1112");
    REQUIRE(glass.press("settings/access/words/back"));
    CHECK(glass.drafts.access.own_pin.empty());
    CHECK(glass.drafts.access.shown);
    REQUIRE(glass.press("settings/access/people/Tindo Quellaby/change"));
    glass.type("1112");
    glass.strike(GLFW_KEY_ESCAPE);
    CHECK(glass.drafts.access.step == AccessStep::People);
    CHECK(glass.drafts.access.own_pin.empty());
}

TEST_CASE("the time after which it locks is chosen where somebody has a PIN") {
    Glass glass{1280.0F, 800.0F, {}};
    open_pins(glass, "");
    CHECK_FALSE(glass.shows("settings/access/people/lock after 5 min"));
    glass.world.lock.people = {{"Tindo Quellaby", "owner", 0}};
    glass.world.lock.person = "Tindo Quellaby";
    (void)glass.frame();
    REQUIRE(glass.press("settings/access/people/lock after 5 min"));
    REQUIRE(glass.last<ChooseLockTime>() != nullptr);
    CHECK(glass.last<ChooseLockTime>()->minutes == 5);
    REQUIRE(glass.press("settings/access/people/lock after never"));
    CHECK(glass.last<ChooseLockTime>()->minutes == 0);
}
