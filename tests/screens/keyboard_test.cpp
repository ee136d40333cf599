// Strokes and what they do.
#include "screens/keyboard.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("a stroke is taken once") {
    Typing typing;
    typing.add(Stroke::Enter);
    CHECK(typing.has(Stroke::Enter));
    CHECK_FALSE(typing.has(Stroke::Space));
    CHECK(typing.take(Stroke::Enter));
    CHECK_FALSE(typing.take(Stroke::Enter));
}

TEST_CASE("F2 to F7 open the six screens") {
    Glass glass{1280.0F, 800.0F, {}};
    (void)glass.frame();
    const std::pair<int, Screen> keys[] = {
        {GLFW_KEY_F7, Screen::Settings}, {GLFW_KEY_F6, Screen::Week}, {GLFW_KEY_F5, Screen::Outbox},
        {GLFW_KEY_F4, Screen::SignOff},  {GLFW_KEY_F3, Screen::Run},  {GLFW_KEY_F2, Screen::Jobs}};
    for (const auto& [key, screen] : keys) {
        glass.strike(key);
        CHECK(glass.drafts.screen == screen);
    }
}

TEST_CASE("page keys go to the next and the previous check") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    glass.strike(GLFW_KEY_PAGE_DOWN);
    CHECK(glass.drafts.run.check == "goods-scan");
    glass.strike(GLFW_KEY_PAGE_UP);
    CHECK(glass.drafts.run.check == "fall-protection");
}

TEST_CASE("Ctrl+Z asks to undo the last entry") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    ImGui::GetIO().KeyCtrl = true;
    glass.strike(GLFW_KEY_Z);
    ImGui::GetIO().KeyCtrl = false;
    const auto* undo = glass.last_intent<desk::UndoLast>();
    REQUIRE(undo != nullptr);
    CHECK(undo->job == "A-0117");
}

TEST_CASE("Y and N answer a question of yes or no") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    glass.type("n");
    glass.strike(GLFW_KEY_ENTER);
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "no");
}
