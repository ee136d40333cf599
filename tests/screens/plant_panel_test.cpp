// Plant drawing and list of checks.
#include "screens/plant_panel.hpp"

#include <doctest/doctest.h>

#include <set>

#include "desk/paper_journal.hpp"
#include "handover/report_pages.hpp"
#include "handover/testing.hpp"
#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("every check that applies has a mark on the drawing, and touching it goes there") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    for (const desk::CheckView& check : glass.world.job->checks) {
        CAPTURE(check.id);
        CHECK(glass.shows("run/plant/" + check.id));
    }
    REQUIRE(glass.press("run/plant/discharge-pipe"));
    CHECK(glass.drafts.run.check == "discharge-pipe");
}

TEST_CASE("a row of the list goes to its check") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    REQUIRE(glass.press("run/list/rows/goods-scan"));
    CHECK(glass.drafts.run.check == "goods-scan");
}

TEST_CASE("all that is open can be listed, whatever its stage") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    CHECK_FALSE(glass.shows("run/list/rows/test-hold"));
    REQUIRE(glass.press("run/list/all open"));
    (void)glass.frame();
    CHECK(glass.shows("run/list/rows/test-hold"));
    CHECK_FALSE(glass.shows("run/list/rows/power-locked"));
}

TEST_CASE("the window draws the plant that the report draws") {
    // The words of the drawing stand for its parts: each is drawn only with the part it names, and is no word of the list beside it.
    const std::vector<std::string> words = {"relief pipe, open at its end", "open vent", "clay tile", "slate", "not known: feed",
                                            "not known: kind, feed, place of the store, controller, roof covering"};
    struct House {
        std::string more;
        std::vector<std::string> without;
        int says;  ///< how many of the words
    };
    const std::vector<House> houses = {
        {"", {}, 2},
        {"sys.feed = \"vented\"\n", {"sys.feed"}, 2},
        {"roof.covering = \"slate\"\n", {"roof.covering"}, 2},
        {"", {"sys.feed"}, 2},
        {"", {"sys.kind", "sys.feed", "sys.geometry", "sys.controller", "roof.covering"}, 1},
    };
    for (const House& house : houses) {
        std::string facts = desk::testing::house_facts(house.more + desk::testing::tools());
        for (const std::string& key : house.without) {
            const auto at = facts.find(key + " = ");
            REQUIRE(at != std::string::npos);
            facts.erase(at, facts.find('\n', at) + 1 - at);
        }
        CAPTURE(facts);
        const desk::testing::PaperJournal journal{facts, "commissioning"};
        handover::testing::RecordedBook book;
        handover::Flow flow{book, handover::PaperSize::A4, {"", "", ""}};
        handover::pour_plant(flow, journal.report());
        std::set<std::string> on_paper;
        for (const auto& leaf : book.leaves)
            for (const auto& text : drawing::texts_of(*leaf)) on_paper.insert(text.words);
        Glass glass{1280.0F, 800.0F, {}};
        glass.world.job = journal.view();
        glass.open_check("fall-protection");
        glass.drafts.run.mode = RunMode::Plant;
        glass.drafts.run.plant.zoom = 2.0F;
        (void)glass.frame();
        std::set<std::string> on_glass;
        for (const Lettering& lettering : glass.probe.letters)
            if (lettering.path == "run/sheet") on_glass.insert(lettering.words);
        int said = 0;
        for (const std::string& word : words) {
            CAPTURE(word);
            CHECK(on_paper.contains(word) == on_glass.contains(word));
            said += on_glass.contains(word) ? 1 : 0;
        }
        CHECK(said == house.says);
    }
}
