// Settings.
#include "screens/settings_screen.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

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
