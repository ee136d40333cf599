#include "plant/stored_energy.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

TEST_CASE("ten litres of air at 600 kPa hold 7.4 kJ, of water 1.1 J") {
    // Arithmetic of the equations (numpy 1.24.2).
    const auto air = gas_energy(litres(10), GaugePressure::kilopascals(600));
    REQUIRE(air);
    CHECK(is_within(air->isentropic.si(), 7445.21, 0.001));
    CHECK(is_within(air->upper.si(), 15000, 1e-7));
    const auto water =
        water_energy({litres(10), GaugePressure::kilopascals(600),
                      Compressibility::from_si(4.576e-10), Compressibility::from_si(1.7207e-10)});
    REQUIRE(water);
    CHECK(is_within(water->si(), 1.133406, 1e-4));
    CHECK(air->isentropic.si() > 5000.0 * water->si());
}

TEST_CASE("the upper form is never below the isentropic one, and no pressure holds no energy") {
    for (double kpa = 10.0; kpa < 10000.0; kpa *= 2.0) {
        const auto air = gas_energy(litres(10), GaugePressure::kilopascals(kpa));
        REQUIRE(air);
        CHECK(air->upper > air->isentropic);
        CHECK(air->isentropic.si() > 0.0);
    }
    CHECK(gas_energy(litres(10), GaugePressure::kilopascals(0))->isentropic.si() == 0.0);
}

TEST_CASE("volumes and pressures that cannot be are refused") {
    CHECK(!gas_energy(litres(0), GaugePressure::kilopascals(600)));
    CHECK(!gas_energy(litres(10), GaugePressure::kilopascals(-1)));
    CHECK(!gas_energy(litres(not_a_number), GaugePressure::kilopascals(600)));
    CHECK(!water_energy({litres(10), GaugePressure::kilopascals(2001),
                         Compressibility::from_si(4.6e-10), Compressibility::from_si(0)}));
    CHECK(!water_energy({litres(10), GaugePressure::kilopascals(600),
                         Compressibility::from_si(not_a_number), Compressibility::from_si(0)}));
}
