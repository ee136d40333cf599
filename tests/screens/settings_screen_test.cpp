// Settings.
#include "screens/settings_screen.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

/// What is scrolled away on a small glass is brought into sight by the wheel first.
bool press_in_sight(Glass& glass, const std::string& name) {
    for (int turns = 0; turns < 60 && !glass.spot(name).reachable; ++turns) {
        const Rect at = glass.spot("settings/left/line").rect;
        ImGui::GetIO().MousePos = {at.x + at.w / 2.0F, 300.0F};
        ImGui::GetIO().MouseWheel = -1.0F;
        (void)glass.frame();
        (void)glass.frame();
    }
    return glass.press(name);
}

}  // namespace

TEST_CASE("look, text size and scale are asked for") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Settings;
    REQUIRE(glass.press("settings/left/night"));
    REQUIRE(glass.last<ChooseLook>() != nullptr);
    CHECK(glass.last<ChooseLook>()->look == Look::Night);
    REQUIRE(glass.press("settings/left/150 %"));
    REQUIRE(glass.last<ChooseTextSize>() != nullptr);
    CHECK(glass.last<ChooseTextSize>()->percent == 150);
    REQUIRE(glass.press("settings/left/longer"));
    REQUIRE(glass.last<ChooseScale>() != nullptr);
    CHECK(glass.last<ChooseScale>()->px_per_mm > 3.78F);
}

TEST_CASE("a step of the ruler is two parts in a hundred, and a step back undoes it") {
    Glass glass{2400.0F, 1600.0F, {.px_per_mm = 4.0F}};
    glass.drafts.screen = Screen::Settings;
    (void)glass.frame();
    CHECK(glass.spot("settings/left/line").rect.w == doctest::Approx(50.0F * 4.0F));
    REQUIRE(glass.press("settings/left/longer"));
    REQUIRE(glass.last<ChooseScale>() != nullptr);
    CHECK(glass.last<ChooseScale>()->px_per_mm == doctest::Approx(4.08F));
    glass.dress.metrics.px_per_mm = glass.last<ChooseScale>()->px_per_mm;
    REQUIRE(glass.press("settings/left/shorter"));
    CHECK(glass.last<ChooseScale>()->px_per_mm == doctest::Approx(4.0F));
}

TEST_CASE("a tape held to the ruler brings the scale to what the glass has, from above and from below") {
    // The tape is the reference: what the glass has is known here and to the tape, not to the program.
    constexpr float has = 4.6F;
    for (const float believed : {3.78F, 5.6F}) {
        CAPTURE(believed);
        Glass glass{2400.0F, 1600.0F, {.px_per_mm = believed}};
        glass.drafts.screen = Screen::Settings;
        (void)glass.frame();
        const auto on_tape_mm = [&] { return glass.spot("settings/left/line").rect.w / has; };
        // Half a step of 2 % of 50 mm is as near as the keys come.
        for (int presses = 0; presses < 40 && std::abs(on_tape_mm() - 50.0F) > 0.51F; ++presses) {
            REQUIRE(glass.press(on_tape_mm() < 50.0F ? "settings/left/longer" : "settings/left/shorter"));
            REQUIRE(glass.last<ChooseScale>() != nullptr);
            glass.dress.metrics = fitted({.px_per_mm = glass.last<ChooseScale>()->px_per_mm}, 2400.0F, 1600.0F);
            (void)glass.frame();
        }
        CHECK(std::abs(on_tape_mm() - 50.0F) <= 0.51F);
        REQUIRE(glass.last<ChooseScale>() != nullptr);
        CHECK(std::abs(glass.last<ChooseScale>()->px_per_mm / has - 1.0F) < 0.011F);
        // Keys follow it: 14 mm on the tape.
        CHECK(std::abs(glass.spot("settings/left/longer").rect.h / has - 14.0F) < 0.16F);
    }
}

TEST_CASE("on a glass that everything shrank to fit, the ruler still finds and keeps what the glass has") {
    // 500 by 760 pixels of 4.6 to the millimetre are 109 by 165 mm, less than the 135 by 200 mm that all keys need.
    constexpr float has = 4.6F;
    for (const float believed : {3.9F, 5.6F}) {
        CAPTURE(believed);
        Glass glass{500.0F, 760.0F, {.px_per_mm = believed}};
        REQUIRE(glass.dress.metrics.px_per_mm < believed);
        glass.drafts.screen = Screen::Settings;
        (void)glass.frame();
        const auto should_be = [&] { return glass.says("should be 50 mm") ? 50.0F : 40.0F; };
        const auto off_mm = [&] { return glass.spot("settings/left/line").rect.w / has - should_be(); };
        for (int presses = 0; presses < 40 && std::abs(off_mm()) > 0.51F; ++presses) {
            REQUIRE(press_in_sight(glass, off_mm() < 0.0F ? "settings/left/longer" : "settings/left/shorter"));
            REQUIRE(glass.last<ChooseScale>() != nullptr);
            glass.dress.metrics = fitted({.px_per_mm = glass.last<ChooseScale>()->px_per_mm}, 500.0F, 760.0F);
            (void)glass.frame();
        }
        REQUIRE(glass.last<ChooseScale>() != nullptr);
        CHECK(std::abs(glass.last<ChooseScale>()->px_per_mm / has - 1.0F) < 0.013F);
        // The same scale on a large glass: keys of 14 mm on the tape.
        CHECK(fitted({.px_per_mm = glass.last<ChooseScale>()->px_per_mm}, 2400.0F, 1600.0F).mm(14.0F) / has == doctest::Approx(14.0F).epsilon(0.013));
    }
}

TEST_CASE("whether the place of a picture is kept is chosen, and what holds is shown") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Settings;
    REQUIRE(glass.press("settings/left/In the caption"));
    REQUIRE(glass.last<ChoosePicturePlace>() != nullptr);
    CHECK(glass.last<ChoosePicturePlace>()->place == PicturePlace::Kept);
    REQUIRE(glass.press("settings/left/Left out"));
    CHECK(glass.last<ChoosePicturePlace>()->place == PicturePlace::LeftOut);
}

TEST_CASE("the fingerprint is shown, and that the keys are not locked") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Settings;
    (void)glass.frame();
    CHECK(glass.says("4f9a 17c0 22de 8b31"));
    CHECK(glass.says("NOT locked with a PIN"));
}
