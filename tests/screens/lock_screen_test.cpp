#include "screens/lock_screen.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

void give_pins(Glass& glass, std::string at_work = "") {
    glass.world.lock.people = {{"Tindo Quellaby", "owner", 0}, {"Ode Brannick", "installer", 0}};
    glass.world.lock.person = std::move(at_work);
}

void let_in(Glass& glass, const std::string& name) {
    glass.world.lock.person = name;
    ++glass.world.lock.unlocked;
    ++glass.world.lock.answers;
}

SeriesRun running(const Glass& glass) {
    SeriesRun run;
    run.job = glass.world.job->row.job;
    run.check = "test-hold";
    run.title = "Pressure holds for ten minutes";
    run.started_s = glass.world.moment.epoch_s - 130;
    run.every_s = 120;
    run.duration_s = 600;
    run.rows = {{5, {"478"}}};
    return run;
}

}  // namespace

TEST_CASE("with PINs the window begins locked and shows nothing of any job") {
    Glass glass{1280.0F, 800.0F, {}};
    give_pins(glass);
    for (const auto screen : {Screen::Jobs, Screen::Run, Screen::SignOff, Screen::Week, Screen::Settings}) {
        glass.drafts.screen = screen;
        (void)glass.frame();
        (void)glass.frame();
        for (const char* word : {"Imber", "Kettlemark", "A-0117", "Lanternfold"}) {
            CHECK_FALSE(glass.says(word));
            for (const auto& letters : glass.probe.letters) CHECK(letters.words.find(word) == std::string::npos);
        }
        CHECK_FALSE(glass.shows("header/jobs"));
        CHECK(glass.shows("lock/people/Ode Brannick"));
    }
}

TEST_CASE("a person and a PIN are asked for by finger, and the PIN stands nowhere") {
    Glass glass{800.0F, 1280.0F, {}};
    give_pins(glass);
    REQUIRE(glass.press("lock/people/Ode Brannick"));
    for (const char* digit : {"4", "8", "1", "5", "9", "2", "2"}) REQUIRE(glass.press(std::string{"lock/pin/"} + digit));
    REQUIRE(glass.press("lock/pin/delete"));
    for (const auto& [path, spot] : glass.probe.spots) CHECK(spot.words.find("481592") == std::string::npos);
    for (const auto& letters : glass.probe.letters) CHECK(letters.words.find("4815") == std::string::npos);
    REQUIRE(glass.press("lock/pin/done"));
    const auto* unlock = glass.last<Unlock>();
    REQUIRE(unlock != nullptr);
    CHECK(unlock->name == "Ode Brannick");
    CHECK(unlock->pin == "481592");
    CHECK(glass.drafts.lock.pin.empty());
    // A second press while it is on its way asks for nothing.
    glass.all.clear();
    glass.type("11");
    (void)glass.press("lock/pin/done");
    CHECK(glass.last<Unlock>() == nullptr);
}

TEST_CASE("the same by keys alone, letters as well") {
    Glass glass{1280.0F, 800.0F, {}};
    give_pins(glass);
    (void)glass.frame();
    (void)glass.frame();
    glass.strike(GLFW_KEY_TAB);
    for (int i = 0; i < 20 && glass.drafts.attention.at != "lock/people/Tindo Quellaby"; ++i) glass.strike(GLFW_KEY_TAB);
    glass.strike(GLFW_KEY_SPACE);
    CHECK(glass.drafts.lock.name == "Tindo Quellaby");
    glass.type("roof-7x");
    glass.strike(GLFW_KEY_BACKSPACE);
    glass.strike(GLFW_KEY_ENTER);
    const auto* unlock = glass.last<Unlock>();
    REQUIRE(unlock != nullptr);
    CHECK(unlock->name == "Tindo Quellaby");
    CHECK(unlock->pin == "roof-7");
}

TEST_CASE("letters of a PIN are found on the board, and what is typed there goes nowhere else") {
    Glass glass{800.0F, 1280.0F, {}};
    give_pins(glass);
    REQUIRE(glass.press("lock/people/Ode Brannick"));
    REQUIRE(glass.press("lock/pin/letters"));
    for (const char* letter : {"a", "b", "x", "1"}) REQUIRE(glass.press(std::string{"lock/pin/letters/"} + letter));
    CHECK(glass.drafts.lock.pin == "abx1");
    CHECK(glass.drafts.attention.letters.empty());
    REQUIRE(glass.press("lock/pin/letters/done"));
    CHECK(glass.shows("lock/pin/7"));
}

TEST_CASE("another person's name drops the digits typed for the first") {
    Glass glass{1280.0F, 800.0F, {}};
    give_pins(glass);
    REQUIRE(glass.press("lock/people/Ode Brannick"));
    glass.type("123");
    REQUIRE(glass.press("lock/people/Tindo Quellaby"));
    CHECK(glass.drafts.lock.pin.empty());
}

TEST_CASE("after wrong PINs the wait is counted down and nothing can be sent before its end") {
    Glass glass{1280.0F, 800.0F, {}};
    give_pins(glass);
    glass.world.lock.people[1].not_before_s = glass.world.moment.epoch_s + 30;
    REQUIRE(glass.press("lock/people/Ode Brannick"));
    CHECK(glass.says("Ode Brannick may try again in 0:30."));
    glass.type("481592");
    glass.strike(GLFW_KEY_ENTER);
    CHECK(glass.last<Unlock>() == nullptr);
    glass.world.moment.epoch_s += 29;
    (void)glass.frame();
    CHECK(glass.says("in 0:01."));
    glass.world.moment.epoch_s += 1;
    (void)glass.frame();
    glass.strike(GLFW_KEY_ENTER);
    CHECK(glass.last<Unlock>() != nullptr);
}

TEST_CASE("a lock loses nothing that is half typed, and another person finds it there") {
    Glass glass{1280.0F, 800.0F, {}};
    give_pins(glass, "Tindo Quellaby");
    (void)glass.frame();
    glass.open_check("test-pressure");
    glass.type("47");
    CHECK(glass.drafts.run.value == "47");
    glass.drafts.series = {running(glass)};
    glass.world.moment.monotonic_s += 601.0;
    (void)glass.frame();
    CHECK(is_locked(glass.world, glass.drafts.lock));
    CHECK(glass.last<LockWindow>() != nullptr);
    glass.type("99");  // goes into the PIN
    CHECK(glass.drafts.run.value == "47");
    let_in(glass, "Ode Brannick");
    (void)glass.frame();
    (void)glass.frame();
    CHECK(glass.drafts.run.value == "47");
    CHECK(glass.drafts.run.check == "test-pressure");
    glass.type("5");
    CHECK(glass.drafts.run.value == "475");
}

TEST_CASE("a running series goes on behind the lock: its countdown stands there and its tone rings") {
    Glass glass{1280.0F, 800.0F, {}};
    give_pins(glass, "Tindo Quellaby");
    (void)glass.frame();
    glass.drafts.series = {running(glass)};
    Requests requests;
    shut(glass.world, glass.drafts.lock, requests);
    glass.all.clear();
    (void)glass.frame();
    CHECK(glass.shows("lock/due/test-hold"));
    const auto* tone = glass.last<RingTone>();
    REQUIRE(tone != nullptr);
    CHECK(tone->tone == Tone::Due);
    // Pressing it opens nothing.
    REQUIRE(glass.press("lock/due/test-hold"));
    CHECK(is_locked(glass.world, glass.drafts.lock));
    CHECK(glass.drafts.series.size() == 1);
}

TEST_CASE("the wipe lock offers the lock with a PIN only where somebody has one") {
    Glass glass{1280.0F, 800.0F, {}};
    REQUIRE(glass.press("header/lock"));
    CHECK_FALSE(glass.shows("locked/with PIN"));
    give_pins(glass, "Tindo Quellaby");
    (void)glass.frame();
    REQUIRE(glass.press("locked/with PIN"));
    CHECK(is_locked(glass.world, glass.drafts.lock));
    CHECK(glass.last<LockWindow>() != nullptr);
}
