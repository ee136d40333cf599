#include "screens/register_screen.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

void with_instruments(Glass& glass) {
    glass.world.registers = std::pair{
        desk::Register::Instruments,
        desk::RegisterTable{{"instrument", "type", "state", "calibrated", "due", "uncertainty", "jobs", "readings", "last used", "crew"},
                            {{{"PG-1", "pressure gauge", "in date", "2026-06-01", "2027-06-01", "8 kPa", "12", "96", "2026-11-24", "Owlcroft"},
                              {"calibrated 2026-06-01, due 2027-06-01; 12 jobs since J-1"}},
                             {{"TW-1", "torque wrench", "out of date since 2026-10-01", "2025-10-01", "2026-10-01", "0.8 N·m", "9", "70",
                               "2026-11-20", "Thimblegate"},
                              {}}}}};
}

}  // namespace

TEST_CASE("a register is asked for, sorted by a touch on a column, searched, and opened for its history") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Settings;
    REQUIRE(glass.press("settings/page/instruments"));
    const auto* asked = glass.last<AskRegister>();
    REQUIRE(asked != nullptr);
    CHECK(asked->which == desk::Register::Instruments);
    CHECK(glass.says("The jobs are being read."));
    with_instruments(glass);
    (void)glass.frame();
    const auto above = [&](const char* a, const char* b) {
        return glass.spot(std::string{"settings/register/rows/"} + a).rect.y < glass.spot(std::string{"settings/register/rows/"} + b).rect.y;
    };
    CHECK(above("PG-1", "TW-1"));
    REQUIRE(glass.press("settings/register/by/instrument"));
    (void)glass.frame();
    CHECK(above("TW-1", "PG-1"));
    REQUIRE(glass.press("settings/register/rows/PG-1"));
    (void)glass.frame();
    CHECK(glass.says("calibrated 2026-06-01"));
    glass.drafts.registers.search = "owlcroft";
    (void)glass.frame();
    CHECK(glass.shows("settings/register/rows/PG-1"));
    CHECK_FALSE(glass.shows("settings/register/rows/TW-1"));
}

TEST_CASE("what is copied is the table as it is shown, as CSV") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Settings;
    glass.drafts.registers.shown = desk::Register::Instruments;
    with_instruments(glass);
    glass.drafts.registers.search = "torque";
    REQUIRE(glass.press("settings/register/copy"));
    const std::string copied = ImGui::GetClipboardText();
    CHECK(copied.starts_with("instrument,type,"));
    CHECK(copied.find("TW-1") != std::string::npos);
    CHECK(copied.find("PG-1") == std::string::npos);
}
