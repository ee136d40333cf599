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
    // Ticked where one is; the list comes again with what it makes of it.
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/parts"));
    (void)glass.frame();
    glass.all.clear();
    REQUIRE(glass.press("run/parts/list/pipe/there"));
    const auto told = [&] {
        const auto* intent = glass.last<desk::Intent>();
        REQUIRE(intent != nullptr);
        const auto* facts = std::get_if<desk::StateFacts>(intent);
        REQUIRE(facts != nullptr);
        REQUIRE(facts->facts.size() == 1);
        CHECK(facts->job == "A-0117");
        return facts->facts.front();
    };
    CHECK(told() == std::pair<std::string, std::string>{"part.pipe.store", "there"});
    CHECK(glass.last<AskParts>() != nullptr);
    glass.world.parts->rows[0].store = desk::Tick{.said = desk::Ticked::There, .counted = "10.7 m"};
    glass.world.parts->rows[0].van = desk::Tick{.said = desk::Ticked::Missing};
    glass.world.parts->rows[0].in_doubt = {"Copper pipe of the loop: missing at the van."};
    (void)glass.frame();
    CHECK(glass.says("missing at the van"));
    // The chosen one takes itself back.
    REQUIRE(glass.press("run/parts/list/pipe/there"));
    CHECK(told() == std::pair<std::string, std::string>{"part.pipe.store", "open"});
    (void)glass.frame();
    REQUIRE(glass.press("run/parts/van"));
    REQUIRE(glass.press("run/parts/list/pipe/there"));
    CHECK(told() == std::pair<std::string, std::string>{"part.pipe.van", "there"});
    (void)glass.frame();
    // What came in its place is said in words, or it is not kept.
    glass.all.clear();
    REQUIRE(glass.press("run/parts/list/pipe/changed"));
    CHECK(glass.last<desk::Intent>() == nullptr);
    (void)glass.frame();
    CHECK(glass.spot("run/parts/keep").enabled == false);
    glass.drafts.run.changed_words = "pipe of 28 mm";
    (void)glass.frame();
    REQUIRE(glass.press("run/parts/keep"));
    CHECK(told() == std::pair<std::string, std::string>{"part.pipe.van", "changed: pipe of 28 mm"});
    CHECK(glass.drafts.run.changed_part.empty());
    REQUIRE(glass.press("run/parts/back"));
    // A list of another job is not shown for this one.
    glass.world.parts->job = "A-0001";
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/parts"));
    (void)glass.frame();
    CHECK_FALSE(lettered(glass, "10.7"));
}
