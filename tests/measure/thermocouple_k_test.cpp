// The reference function of type K.
#include "measure/thermocouple_k.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <limits>

using namespace wm::measure;
using wm::units::Temperature;
using wm::units::volts;

TEST_CASE("type K has the voltages of the table") {
    // NIST ITS-90 table, type K, three decimals; from memory.
    struct Row {
        double celsius, millivolt;
    };
    for (const Row row : {Row{100, 4.096}, Row{50, 2.023}, Row{0, 0.0}, Row{-100, -3.554},
                          Row{1000, 41.276}, Row{1372, 54.886}}) {
        CAPTURE(row.celsius);
        const auto voltage = couple_voltage(Temperature::celsius(row.celsius));
        REQUIRE(voltage);
        CHECK(std::abs(voltage->si() * 1e3 - row.millivolt) <= 0.0006);
    }
}

TEST_CASE("the two halves of the function meet at the ice point") {
    const double below = couple_voltage(Temperature::celsius(-1e-6))->si();
    const double above = couple_voltage(Temperature::celsius(1e-6))->si();
    CHECK(std::abs(above - below) < 1e-9);
}

TEST_CASE("voltage and temperature undo each other, whatever the cold end") {
    for (const double cold : {-20.0, 0.0, 31.5}) {
        for (double t = -200.0; t <= 1372.0; t += 13.1) {
            CAPTURE(t);
            const auto voltage =
                couple_voltage(CoupleEnds{Temperature::celsius(t), Temperature::celsius(cold)});
            REQUIRE(voltage);
            const auto back = couple_temperature(*voltage, Temperature::celsius(cold));
            REQUIRE(back);
            CHECK(std::abs(back->in_celsius() - t) < 1e-6);
        }
    }
}

TEST_CASE("the cold end counts in millivolts, not in degrees") {
    const auto voltage =
        couple_voltage(CoupleEnds{Temperature::celsius(400.0), Temperature::celsius(25.0)});
    const auto by_degrees = couple_voltage(Temperature::celsius(375.0));
    CHECK(std::abs(voltage->si() - by_degrees->si()) > 5e-5);
}

TEST_CASE("no figure is given outside the range of the function") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_FALSE(couple_voltage(Temperature::celsius(-201.0)));
    CHECK_FALSE(couple_voltage(Temperature::celsius(1373.0)));
    CHECK_FALSE(couple_voltage(Temperature::celsius(nan)));
    CHECK_FALSE(couple_temperature(volts(0.06), Temperature::celsius(0.0)));
    CHECK_FALSE(couple_temperature(volts(nan), Temperature::celsius(0.0)));
    CHECK_FALSE(couple_temperature(volts(0.01), Temperature::celsius(2000.0)));
}
