#include "screens/house_sheet.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

void open_house(Glass& glass) {
    glass.world.job->unknown_facts = {{"site.wind_ms", "", "peak gust of the place", false, "m/s", {}},
                                      {"customer.vulnerable", "", "small children, old or disabled people", false, "", {"yes", "no"}}};
    glass.open_check("roof-clear");
    REQUIRE(glass.press("run/more"));
    REQUIRE(glass.press("run/more/keys/house"));
    (void)glass.frame();
}

}  // namespace

TEST_CASE("a fact of the house is stated from the list, in words to choose from where it has any") {
    Glass glass{1280.0F, 800.0F, {}};
    open_house(glass);
    CHECK(glass.spot("run/house/list/site.wind_ms").words == "peak gust of the place");
    REQUIRE(glass.press("run/house/list/customer.vulnerable"));
    (void)glass.frame();
    CHECK_FALSE(glass.spot("run/house/state").enabled);
    REQUIRE(glass.press("run/house/one/yes"));
    REQUIRE(glass.press("run/house/state"));
    const auto* stated = glass.last_intent<desk::StateFacts>();
    REQUIRE(stated != nullptr);
    CHECK(stated->job == "A-0117");
    CHECK(stated->facts == std::vector<std::pair<std::string, std::string>>{{"customer.vulnerable", "yes"}});
    // Back on the list, with nothing left over for the next fact.
    (void)glass.frame();
    CHECK(glass.shows("run/house/list/site.wind_ms"));
    CHECK(glass.drafts.run.fact.empty());
    REQUIRE(glass.press("run/house/back"));
    CHECK(glass.drafts.run.mode == RunMode::Reading);
}

TEST_CASE("what is typed for one fact does not go to another") {
    Glass glass{1280.0F, 800.0F, {}};
    open_house(glass);
    REQUIRE(glass.press("run/house/list/site.wind_ms"));
    REQUIRE(glass.press("run/house/one/fact"));
    glass.type("34");
    CHECK(glass.drafts.run.fact == "34");
    REQUIRE(glass.press("run/house/back"));
    CHECK(glass.drafts.run.fact.empty());
    CHECK(glass.last_intent<desk::StateFacts>() == nullptr);
}

TEST_CASE("a fact that is refused is there again, and one that is unusual is asked about") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("coll-tilt");
    glass.world.job->unknown_facts = {{"sys.anchor_nm", "", "torque of a store anchor", false, "N·m", {}}};
    glass.world.job->questions = {"The static pressure is 42000 kPa; 20 to 1200 kPa would be usual."};
    glass.drafts.run.mode = RunMode::House;
    static_cast<void>(glass.frame());
    CHECK(glass.says("42000 kPa"));
    glass.drafts.run.house_fact = "sys.anchor_nm";
    glass.drafts.run.fact = "2 kgf m";
    REQUIRE(glass.press("run/house/state"));
    CHECK(glass.drafts.run.fact.empty());
    glass.world.saving = true;
    static_cast<void>(glass.frame());
    glass.world.saving = false;
    ++glass.world.answered;
    glass.world.problem = Problem{"\"kgf m\" is no unit.", "sys.anchor_nm", "Use N·m."};
    glass.world.problem_at = glass.world.answered + 1;
    static_cast<void>(glass.frame());
    CHECK(glass.drafts.run.house_fact == "sys.anchor_nm");
    CHECK(glass.drafts.run.fact == "2 kgf m");
    CHECK_FALSE(glass.drafts.run.sent_fact);
}
