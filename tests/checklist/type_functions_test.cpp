#include "checklist/type_functions.hpp"

#include <doctest/doctest.h>

#include <string>

namespace wm::checklist {

TEST_CASE("gauge and absolute pressures never stand together, a bare one fits both") {
    using units::Scale;
    CHECK(scales_agree(Scale::Plain, Scale::Gauge));
    CHECK(scales_agree(Scale::Absolute, Scale::Plain));
    CHECK_FALSE(scales_agree(Scale::Absolute, Scale::Gauge));
    CHECK_FALSE(scales_agree(Scale::Point, Scale::Plain));
    CHECK(scales_agree(Scale::Point, Scale::Point));
}

TEST_CASE("units multiplied to a power that nothing is measured in are refused") {
    std::string text = "sys.coll_m2";
    for (int i = 0; i < 8; ++i) text += " * sys.coll_m2";
    const auto e = Expression::parse(text);
    REQUIRE(e);
    const auto type = type_of(*e, Scope{});
    REQUIRE(!type);
    CHECK(type.error().what == "multiplies units to a power nothing is measured in");
}

TEST_CASE("the root of an area is a length, and a value of another checklist may be anything") {
    const auto root = Expression::parse("sqrt(sys.coll_m2) + 1 m");
    REQUIRE(root);
    CHECK(in_words(*type_of(*root, Scope{})) == "a length");
    const auto other = Expression::parse("ceil(commissioning('pressure-limit-set')) + 1 m");
    REQUIRE(other);
    CHECK(type_of(*other, Scope{})->sort == Sort::Any);
}

TEST_CASE("the rise of a full store is a pressure, and is taken from temperatures only") {
    const auto rise = Expression::parse("full_rise(20 °C, 21 °C) + 1 kPa");
    REQUIRE(rise);
    CHECK(in_words(*type_of(*rise, Scope{})) == "a pressure");
    const auto wrong = Expression::parse("full_rise(20 K, 21 K)");
    REQUIRE(wrong);
    const auto type = type_of(*wrong, Scope{});
    REQUIRE(!type);
    CHECK(type.error().what_to_do == "Write it like full_rise(water_start, water_end).");
}

}  // namespace wm::checklist
