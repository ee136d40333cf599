#include "figures/frame.hpp"

#include <doctest/doctest.h>

using namespace wm::figures;

TEST_CASE("a frame keeps proportions and centres the drawing") {
    const Frame frame{200, 100, {10, 10, 100, 100}};
    CHECK(frame.mm(200) == doctest::Approx(100));
    CHECK(frame.at(0, 0) == wm::drawing::Point{10, 35});
    CHECK(frame.at(200, 100) == wm::drawing::Point{110, 85});
}
