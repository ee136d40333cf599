// Places of a check.
#include "screens/places_panel.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("the first place that is open is at hand, and saving goes on to the next") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("anchor-torque");
    CHECK(glass.drafts.run.place == "2");
    glass.type("20");
    glass.strike(GLFW_KEY_ENTER);
    CHECK(glass.drafts.run.place == "3");
}

TEST_CASE("a touched place is the one that is read") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("anchor-torque");
    REQUIRE(glass.press("run/check/places/4"));
    glass.type("21");
    glass.strike(GLFW_KEY_ENTER);
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->place == "4");
}

TEST_CASE("arrow keys move among the places and stop at the ends") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("anchor-torque");
    glass.strike(GLFW_KEY_RIGHT);
    CHECK(glass.drafts.run.place == "3");
    for (int i = 0; i < 5; ++i) glass.strike(GLFW_KEY_LEFT);
    CHECK(glass.drafts.run.place == "1");
}

TEST_CASE("what was typed for one place is not saved for another") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("anchor-torque");
    glass.type("20");
    REQUIRE(glass.press("run/check/places/5"));
    CHECK(glass.drafts.run.value.empty());
}

TEST_CASE("what is said with the figure stands beside it in full words, and the key that saves counts it") {
    Glass glass{1280.0F, 800.0F, {}};
    for (auto& check : glass.world.job->checks) {
        if (check.id != "test-pressure") continue;
        desk::PlaceView whole, dry, ice;
        whole.form = desk::EntryForm::Number;
        whole.unit = "kPa";
        dry.name = "dry";
        ice.name = "no ice";
        for (auto* part : {&dry, &ice}) {
            part->form = desk::EntryForm::YesNo;
            part->question = "Is it so?";
            part->required = false;
        }
        dry.said = "the roof is dry";
        ice.said = "no ice on it";
        check.places = {whole, dry, ice};
    }
    glass.open_check("test-pressure");
    CHECK(glass.spot("run/check/places/dry").small == "with Save: yes");
    CHECK(std::any_of(glass.probe.letters.begin(), glass.probe.letters.end(), [](const Lettering& one) { return one.words == "the roof is dry"; }));
    glass.type("470");
    CHECK(glass.spot("run/check/keypad/save").words == "Save all 3");
    // What it says is read in full before it is kept: taps in a hurry say nothing.
    glass.read_first();
    for (int tap = 0; tap < 3; ++tap) {
        const Rect at = glass.spot("run/check/keypad/save").rect;
        glass.put_finger(at.x + at.w / 2.0F, at.y + at.h / 2.0F);
        glass.lift_finger();
        glass.world.moment.monotonic_s += 0.35;
    }
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    (void)glass.frame();
    CHECK(glass.says("You also say: the roof is dry; no ice on it."));
    CHECK(glass.spot("run/check/keypad/save").words == "All so: save");
    // Another figure is another statement.
    glass.strike(GLFW_KEY_BACKSPACE);
    glass.type("5");
    CHECK(glass.spot("run/check/keypad/save").words == "Save all 3");
    glass.world.moment.monotonic_s += 1.0;
    REQUIRE(glass.press("run/check/keypad/save"));
    glass.world.moment.monotonic_s += 1.0;
    REQUIRE(glass.press("run/check/keypad/save"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->said);
    CHECK(reading->place.empty());
    // A part answered by itself says nothing beside it.
    REQUIRE(glass.press("run/check/places/dry"));
    REQUIRE(glass.press("run/check/no"));
    reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->place == "dry");
    CHECK_FALSE(reading->said);
}

TEST_CASE("a part that only speaks up where something is amiss says so, and the main answer has words") {
    Glass glass{1280.0F, 800.0F, {}};
    for (auto& check : glass.world.job->checks) {
        if (check.id != "test-pressure") continue;
        desk::PlaceView whole;
        whole.form = desk::EntryForm::Number;
        whole.unit = "kPa";
        desk::PlaceView part;
        part.name = "no ice";
        part.form = desk::EntryForm::YesNo;
        part.required = false;
        check.places = {whole, part};
    }
    glass.open_check("test-pressure");
    CHECK(std::any_of(glass.probe.letters.begin(), glass.probe.letters.end(), [](const Lettering& one) { return one.words == "the value"; }));
    CHECK(glass.spot("run/check/places/no ice").small == "only if not so");
    CHECK(glass.spot("run/check/places/all").small.empty());
}

TEST_CASE("the place at hand is in sight, however one came to it, on ten inches at every size of words") {
    // 10.1 inch of 16:10 is 217.5 by 136.0 mm.
    constexpr float px_per_mm = 1280.0F / 217.5F;
    for (const bool lying : {true, false}) {
        for (const int percent : {100, 150, 200}) {
            CAPTURE(lying);
            CAPTURE(percent);
            Glass glass{lying ? 1280.0F : 800.0F, lying ? 800.0F : 1280.0F, {.px_per_mm = px_per_mm, .text_percent = percent}};
            desk::CheckView* check = nullptr;
            for (auto& one : glass.world.job->checks)
                if (one.id == "anchor-torque") check = &one;
            REQUIRE(check != nullptr);
            const desk::PlaceView open = check->places.back();
            check->places.front().outcome = measure::Outcome::Open;
            while (check->places.size() < 12) {
                check->places.push_back(open);
                check->places.back().name = std::to_string(check->places.size());
            }
            const auto in_sight = [&](const std::string& place) {
                for (int i = 0; i < 4; ++i) (void)glass.frame();
                CHECK(glass.drafts.run.place == place);
                const Spot& key = glass.spot("run/check/places/" + place);
                CHECK(key.rect.h > 0.0F);
                return key.seen.h >= key.rect.h - 1.0F;
            };
            glass.open_check("anchor-torque");
            CHECK(in_sight("1"));
            for (const char* place : {"12", "1", "8", "2", "11"}) {
                CAPTURE(place);
                REQUIRE(glass.press(std::string{"run/check/map "} + place));
                CHECK(in_sight(place));
            }
            // With a figure the scale comes, and the list gets lower.
            glass.type("2");
            CHECK(in_sight("11"));
            glass.drafts.run.value.clear();
            REQUIRE(glass.press("run/check/map 1"));
            CHECK(in_sight("1"));
            for (int place = 1; place < 12; ++place) {
                CAPTURE(place);
                Requests sent;
                save_reading(*check, "20", glass.drafts.run, sent);
                check->places[static_cast<std::size_t>(place) - 1].outcome = measure::Outcome::Conforms;
                ++glass.world.answered;
                CHECK(in_sight(std::to_string(place + 1)));
            }
        }
    }
}
