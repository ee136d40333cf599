// Plant drawing and list of checks.
#include "screens/plant_panel.hpp"

#include <doctest/doctest.h>

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

TEST_CASE("the facts decide what is drawn") {
    World world = testing::sample_world();
    figures::PlantShape shape = shape_of(*world.job);
    CHECK(shape.loop == figures::LoopKind::Indirect);
    CHECK(shape.covering == figures::Covering::Tile);
    CHECK(shape.controller);
    world.job->facts = {{"sys.kind", "direct", "", false, ""},
                        {"sys.feed", "vented", "", false, ""},
                        {"roof.covering", "slate", "", false, ""},
                        {"sys.controller", "none", "", false, ""}};
    shape = shape_of(*world.job);
    CHECK(shape.loop == figures::LoopKind::Direct);
    CHECK(shape.feed == figures::FeedKind::Vented);
    CHECK(shape.covering == figures::Covering::Slate);
    CHECK_FALSE(shape.controller);
}
