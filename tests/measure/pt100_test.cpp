// The equations of IEC 60751.
#include "measure/pt100.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <limits>

using namespace wm::measure;
using wm::units::ohms;
using wm::units::Temperature;

TEST_CASE("a Pt100 has the resistances of the table") {
    struct Row {
        double celsius, ohm, tolerance;
    };
    const Row rows[] = {
        {100.0, 138.51, 0.006},   // IEC 60751 table, two decimals; from memory
        {-50.0, 80.31, 0.006},    // IEC 60751 table, two decimals; from memory
        {100.0, 138.5055, 1e-6},  // arithmetic of the equation
        {0.0, 100.0, 1e-9},       // definition
        {-200.0, 18.52, 0.006},   // IEC 60751 table; from memory
        {850.0, 390.48, 0.006},   // IEC 60751 table; from memory
    };
    for (const Row& row : rows) {
        CAPTURE(row.celsius);
        const auto resistance = platinum_resistance(Temperature::celsius(row.celsius), ohms(100.0));
        REQUIRE(resistance);
        CHECK(std::abs(resistance->si() - row.ohm) <= row.tolerance);
    }
}

TEST_CASE("resistance and temperature undo each other over the whole range") {
    double last = 0.0;
    for (double t = -200.0; t <= 850.0; t += 7.5) {
        CAPTURE(t);
        const auto resistance = platinum_resistance(Temperature::celsius(t), ohms(1000.0));
        REQUIRE(resistance);
        CHECK(resistance->si() > last);
        last = resistance->si();
        const auto back = platinum_temperature(*resistance, ohms(1000.0));
        REQUIRE(back);
        CHECK(std::abs(back->in_celsius() - t) < 1e-6);
    }
}

TEST_CASE("the classes allow what the standard says") {
    // IEC 60751:2008, table 3; from memory.
    CHECK(platinum_tolerance(PlatinumClass::A, Temperature::celsius(100.0)).si() ==
          doctest::Approx(0.35));
    CHECK(platinum_tolerance(PlatinumClass::B, Temperature::celsius(-100.0)).si() ==
          doctest::Approx(0.80));
}

TEST_CASE("no figure is given outside the range of the equations") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_FALSE(platinum_resistance(Temperature::celsius(-201.0), ohms(100.0)));
    CHECK_FALSE(platinum_resistance(Temperature::celsius(851.0), ohms(100.0)));
    CHECK_FALSE(platinum_resistance(Temperature::celsius(nan), ohms(100.0)));
    CHECK_FALSE(platinum_resistance(Temperature::celsius(20.0), ohms(0.0)));
    CHECK_FALSE(platinum_temperature(ohms(18.0), ohms(100.0)));
    CHECK_FALSE(platinum_temperature(ohms(391.0), ohms(100.0)));
    CHECK_FALSE(platinum_temperature(ohms(nan), ohms(100.0)));
}
