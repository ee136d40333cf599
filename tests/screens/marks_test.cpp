// Marks and rows.
#include "screens/marks.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("an outcome is always there as a word, not as a colour alone") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("discharge-pipe");
    CHECK(glass.says("does not conform"));
    glass.open_check("coll-tilt");
    CHECK(glass.says("inconclusive"));
    glass.open_check("outlet-temp");
    CHECK(glass.says("deferred"));
}

TEST_CASE("severity letters are said in words") {
    CHECK(severity_words("H") == "H: can hurt someone");
    CHECK(severity_words("R") == "R: paperwork");
    CHECK(severity_words("") == "");
}
