// Words that fit.
#include "screens/label.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("at 100, 150 and 200 percent no word of any screen is cut off") {
    for (const auto& [width, height] : {std::pair{1280.0F, 800.0F}, std::pair{800.0F, 1280.0F}}) {
        for (const int percent : {100, 150, 200}) {
            CAPTURE(width);
            CAPTURE(percent);
            Glass glass{width, height, {.px_per_mm = 3.78F, .text_percent = percent}};
            for (const std::string id :
                 {"anchor-torque", "discharge-pipe", "test-pressure", "test-hold"}) {
                CAPTURE(id);
                glass.open_check(id);
                CHECK(glass.probe.cut_off == std::vector<std::string>{});
            }
            for (const Screen screen :
                 {Screen::Jobs, Screen::SignOff, Screen::Outbox, Screen::Week, Screen::Settings}) {
                CAPTURE(static_cast<int>(screen));
                glass.drafts.screen = screen;
                (void)glass.frame();
                CHECK(glass.probe.cut_off == std::vector<std::string>{});
            }
        }
    }
}

TEST_CASE("the keypad and the value stay on the glass at 200 percent") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = 3.78F, .text_percent = 200}};
    glass.open_check("test-pressure");
    for (const std::string name : {"7", "8", "9", "0", ".", ",", "delete", "sign", "save"}) {
        CAPTURE(name);
        const Spot& spot = glass.spot("run/check/keypad/" + name);
        CHECK(spot.reachable);
        CHECK(spot.rect.bottom() <= 800.0F);
        CHECK(spot.rect.right() <= 1280.0F);
    }
}
