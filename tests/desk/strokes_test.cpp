#include "desk/strokes.hpp"

#include <doctest/doctest.h>

namespace wm::desk {

TEST_CASE("strokes come back from SVG with their times") {
    const std::vector<Stroke> drawn = {{{1.0, 2.0, 0}, {3.5, 4.25, 40}, {6.0, 2.0, 90}}, {{10.0, 1.0, 300}, {12.0, 5.0, 350}}};
    const auto read = strokes_of_svg(strokes_to_svg(drawn), "sig.svg");
    REQUIRE(read);
    REQUIRE(read->size() == 2);
    CHECK((*read)[0][1].x_mm == doctest::Approx(3.5));
    CHECK((*read)[0][2].ms == 90);
    CHECK((*read)[1][1].y_mm == doctest::Approx(5.0));
}

TEST_CASE("paths of other programs are read, strokes parted at each M") {
    const auto read = strokes_of_svg("<svg><path d=\"M1 2 L3,4 L5 6 M7 8 L9 10\" fill=\"none\"/></svg>", "x.svg");
    REQUIRE(read);
    CHECK(read->size() == 2);
}

TEST_CASE("points that are no numbers, or far off any pad, are passed over") {
    const auto read = strokes_of_svg("<polyline points=\"1,2 -nan,1 3,4 -inf,2 1e300,5 5,6\"/>", "x.svg");
    REQUIRE(read);
    REQUIRE(read->size() == 1);
    CHECK(read->front().size() == 3);
    CHECK_FALSE(strokes_of_svg("<polyline points=\"-nan,-nan -inf,-inf\"/>", "x.svg"));
}

TEST_CASE("a number that no double holds is off any pad or nothing, never the digits of its exponent") {
    const auto read = strokes_of_svg("<polyline points=\"1,2 3,2.51e3088 5e-400,6 7,8\"/>", "x.svg");
    REQUIRE(read);
    REQUIRE(read->front().size() == 3);
    CHECK(read->front()[1].x_mm == 0.0);
    CHECK(read->front()[1].y_mm == 6.0);
}

TEST_CASE("a file without a line is refused") {
    const auto read = strokes_of_svg("<svg></svg>", "x.svg");
    REQUIRE_FALSE(read);
    CHECK(read.error().where == "x.svg");
    CHECK_FALSE(strokes_of_svg("", "x.svg"));
    CHECK_FALSE(strokes_of_svg("<path d=\"M", "x.svg"));
}

}  // namespace wm::desk
