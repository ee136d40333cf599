// Pictures.
#include "screens/photo_panel.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("a photo check is saved with the picture that was chosen") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("nut-marks");
    CHECK_FALSE(glass.spot("run/check/photo/save").enabled);
    REQUIRE(glass.press("run/check/photo/pictures/pictures/090.jpg"));
    REQUIRE(glass.press("run/check/photo/save"));
    const auto* with = glass.last<WithPhoto>();
    REQUIRE(with != nullptr);
    CHECK(with->path == "pictures/090.jpg");
}

TEST_CASE("a picture chosen beforehand goes with the answer") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    REQUIRE(glass.press("run/photo"));
    REQUIRE(glass.press("run/photo/pictures/pictures/091.jpg"));
    REQUIRE(glass.press("run/photo/use"));
    REQUIRE(glass.press("run/check/yes"));
    const auto* with = glass.last<WithPhoto>();
    REQUIRE(with != nullptr);
    CHECK(with->path == "pictures/091.jpg");
    CHECK(std::get<desk::TakeReading>(with->intent).text == "yes");
}

TEST_CASE("the name of a file is its last part") {
    CHECK(file_name("a/b/c.jpg") == "c.jpg");
    CHECK(file_name("c.jpg") == "c.jpg");
    CHECK(file_name("a\\b.jpg") == "b.jpg");
}
