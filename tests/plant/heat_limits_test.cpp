#include "plant/heat_limits.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

namespace wm::plant {

using testing::is_near;
using testing::not_a_number;
using units::Temperature;

TEST_CASE("a collector without flow is as hot as its label says, else as its curve crosses zero") {
    // 0.015·x² + 3.5·x = 0.8·1000, x = 142.07 K over 30 °C. Curve: common practice, no source;
    // 1000 W/m² and 30 °C: ISO 9806, from memory.
    CHECK(is_near(hottest_collector({})->in_celsius(), 172.07, 0.01));
    CollectorSheet sheet;
    sheet.optical = 0.7;
    CHECK(hottest_collector(sheet)->in_celsius() < 172.0);
    sheet.stagnation = Temperature::celsius(205);
    CHECK(is_near(hottest_collector(sheet)->in_celsius(), 205, 1e-9));
    sheet.stagnation = Temperature::celsius(not_a_number);
    CHECK(!hottest_collector(sheet));
}

TEST_CASE("a store gets as hot as the lowest of its limits allows, the maker's figure before all") {
    StoreLimits limits{Temperature::celsius(172), std::nullopt, Temperature::celsius(95),
                       std::nullopt};
    CHECK(is_near(hottest_store(limits)->in_celsius(), 95, 1e-9));
    limits.boiling = Temperature::celsius(92.3);
    CHECK(is_near(hottest_store(limits)->in_celsius(), 92.3, 1e-9));
    limits.collector = Temperature::celsius(80);
    CHECK(is_near(hottest_store(limits)->in_celsius(), 80, 1e-9));
    limits.maker = Temperature::celsius(85);
    CHECK(is_near(hottest_store(limits)->in_celsius(), 85, 1e-9));
    limits.relief = Temperature::celsius(not_a_number);
    CHECK(!hottest_store(limits));
}

TEST_CASE("the brightest sun and the heating element come in together") {
    // 0.8·1200 W/m²·2 m² + 2000 W; 0.8 and 1200 are common practice, no source.
    const HeatIn heat{units::square_metres(2), std::nullopt, units::watts(2000)};
    CHECK(is_near(heat_that_can_come_in(heat)->si(), 3920, 1e-6));
    CHECK(!heat_that_can_come_in({units::square_metres(0), std::nullopt, units::watts(2000)}));
}

TEST_CASE("a full store moves by about a bar for each kelvin, and three times that when warm") {
    // Source: trade content, 1 bar per kelvin for a 150 L steel store at 20 °C; the equation is
    // that of a shut pipe.
    const auto rise = [](double from, double to) {
        return full_store_rise(Temperature::celsius(from), Temperature::celsius(to));
    };
    const double cold = rise(20, 21)->si() / 1e3;
    CHECK(cold > 95.0);
    CHECK(cold < 135.0);
    CHECK(rise(60, 61)->si() / 1e3 / cold == doctest::Approx(2.7).epsilon(0.2));
    CHECK(rise(20, 19)->si() < 0.0);
    CHECK(rise(20, 20)->si() == doctest::Approx(0.0));
    CHECK(!rise(20, 30));
    CHECK(!rise(not_a_number, 20));
}

}  // namespace wm::plant
