#include "screens/parts_sheet.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

bool lettered(const Glass& glass, std::string_view words) {
    return std::any_of(glass.probe.letters.begin(), glass.probe.letters.end(),
                       [&](const Lettering& each) { return each.words.find(words) != std::string::npos; });
}

}  // namespace

TEST_CASE("the parts of a job are asked for once, shown with what they come from, and made a sheet") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("roof-clear");
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/parts"));
    (void)glass.frame();
    REQUIRE(glass.last<AskParts>() != nullptr);
    CHECK(glass.last<AskParts>()->job == "A-0117");
    glass.all.clear();
    (void)glass.frame();
    CHECK(glass.last<AskParts>() == nullptr);
    CHECK(glass.spot("run/parts/sheet").enabled == false);
    desk::PickListView list;
    list.job = "A-0117";
    list.rows = {{.part = "pipe", .check = "kit-pipe", .check_title = "Copper pipe", .name = "Copper pipe of the loop, 22 mm outside", .note = "A tenth for offcuts.",
                  .amount = "10.7 m", .how = {"run of the hot loop pipe = 6 m"}, .missing = {}, .sources = {"CP"}},
                 {.part = "fixings", .check = "kit-fixings", .check_title = "Brackets", .name = "Brackets", .note = "", .amount = "", .how = {},
                  .missing = {"design resistance of one fixing (sys.fix_kn)"}, .sources = {"S8"}}};
    list.instruments = {{"torque wrench", {}}};
    glass.world.parts = list;
    (void)glass.frame();
    CHECK(lettered(glass, "10.7"));
    CHECK(glass.says("run of the hot loop pipe = 6 m"));
    CHECK(glass.says("Still to be known: design resistance"));
    CHECK(glass.says("none is registered for this job"));
    REQUIRE(glass.press("run/parts/sheet"));
    REQUIRE(glass.last<SaveParts>() != nullptr);
    CHECK(glass.last<SaveParts>()->job == "A-0117");
    REQUIRE(glass.press("run/parts/back"));
    CHECK(glass.drafts.run.mode == RunMode::Reading);
    // A list of another job is not shown for this one.
    glass.world.parts->job = "A-0001";
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/parts"));
    (void)glass.frame();
    CHECK_FALSE(lettered(glass, "10.7"));
}
