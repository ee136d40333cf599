#include "audit/likeness.hpp"

#include <doctest/doctest.h>

namespace wm::audit {

TEST_CASE("a check is compared within what can matter for it, and an unknown one within roof and system") {
    // Common practice, no source.
    CHECK(likeness_of("covering-back").roof);
    CHECK_FALSE(likeness_of("covering-back").system);
    CHECK(likeness_of("loop-freeze-point").system);
    CHECK_FALSE(likeness_of("loop-freeze-point").roof);
    CHECK_FALSE(likeness_of("relief-lever").roof);
    CHECK(likeness_of("outlet-temp").household);
    CHECK(likeness_of("something-new").roof);
    CHECK(likeness_of("something-new").system);
}

TEST_CASE("jobs share a stratum when they are alike in what counts") {
    JobCard slate;
    slate.roof = "slate";
    slate.system = "indirect";
    slate.vulnerable = true;
    JobCard tile = slate;
    tile.roof = "clay-tile";
    CHECK(stratum_of(slate, {.roof = true, .system = false}) != stratum_of(tile, {.roof = true, .system = false}));
    CHECK(stratum_of(slate, {.roof = false, .system = true}) == stratum_of(tile, {.roof = false, .system = true}));
    tile.vulnerable = false;
    const Likeness household{.roof = false, .system = false, .household = true};
    CHECK(stratum_of(slate, household) != stratum_of(tile, household));
}

TEST_CASE("only materials that can be behind a check are compared") {
    CHECK(materials_behind("relief-lever").size() == 1);
    CHECK(materials_behind("relief-lever")[0] == "relief valve");
    CHECK(materials_behind("loop-freeze-point").size() == 2);
    CHECK(materials_behind("coll-tilt").empty());
    CHECK(asked_by_household("outlet-temp"));
    CHECK_FALSE(asked_by_household("ins-ends"));
}

}  // namespace wm::audit
