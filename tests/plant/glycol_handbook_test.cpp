#include "plant/glycol_handbook.hpp"

#include <doctest/doctest.h>

#include <array>

#include "plant/glycol.hpp"
#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

TEST_CASE("rows of the handbook that the table leaves out are met between its rows") {
    struct Row {
        double percent, celsius, density, specific_heat, viscosity_mpa_s;
    };
    // Source: ASHRAE Handbook Fundamentals 2001, chapter 21, inhibited propylene glycol: the rows at odd fives.
    constexpr std::array rows = {
        Row{10, 5, 1012.61, 4050, 2.23},  Row{20, 15, 1020.91, 3962, 2.36},  Row{30, 25, 1026.06, 3862, 2.57},
        Row{40, 35, 1028.23, 3751, 2.60}, Row{40, 45, 1022.24, 3784, 1.91},  Row{40, 55, 1015.75, 3817, 1.47},
        Row{50, 65, 1013.23, 3706, 1.55}, Row{50, 75, 1005.24, 3744, 1.24},  Row{60, 85, 999.28, 3625, 1.22},
        Row{60, 5, 1056.5, 3272, 22.87},  Row{30, 95, 980.57, 4054, 0.57},   Row{60, 95, 989.85, 3670, 1.01}};
    for (const auto& row : rows) {
        CAPTURE(row.percent);
        CAPTURE(row.celsius);
        const auto mixture = glycol_mixture(row.percent, Temperature::celsius(row.celsius));
        REQUIRE(mixture);
        CHECK(is_within(mixture->density.si(), row.density, 0.02));
        CHECK(is_within(mixture->specific_heat.si(), row.specific_heat, 0.05));
        CHECK(is_within(mixture->viscosity.si() * 1e3, row.viscosity_mpa_s, 1.5));
    }
}

TEST_CASE("the handbook and another author's polynomials describe one fluid") {
    // Source: Melinder 2010, IIR (glycol_properties); his fluid is without inhibitors.
    for (const double percent : {20.0, 30.0, 40.0, 50.0})
        for (const double celsius : {5.0, 20.0, 35.0}) {
            const auto table = glycol_mixture(percent, Temperature::celsius(celsius));
            const auto other =
                glycol_properties(*glycol_mass_fraction(percent / 100.0), Temperature::celsius(celsius));
            REQUIRE(table);
            REQUIRE(other);
            CAPTURE(percent);
            CAPTURE(celsius);
            CHECK(is_within(table->density.si(), other->density.si(), 0.8));
            CHECK(is_within(table->specific_heat.si(), other->specific_heat.si(), 3.0));
            CHECK(is_within(table->viscosity.si(), other->viscosity->si(), 15.0));
        }
}

TEST_CASE("more glycol is thicker, warmer glycol thinner and lighter") {
    for (double celsius = 0.0; celsius <= 95.0; celsius += 5.0)
        for (double percent = 10.0; percent <= 55.0; percent += 5.0) {
            const auto here = glycol_mixture(percent, Temperature::celsius(celsius));
            const auto stronger = glycol_mixture(percent + 5.0, Temperature::celsius(celsius));
            const auto warmer = glycol_mixture(percent, Temperature::celsius(celsius + 5.0));
            CHECK(stronger->viscosity > here->viscosity);
            CHECK(warmer->viscosity < here->viscosity);
            CHECK(warmer->density < here->density);
        }
}

TEST_CASE("outside its table the mixture is refused") {
    for (const double percent : {9.9, 60.1, not_a_number})
        CHECK_FALSE(glycol_mixture(percent, Temperature::celsius(20.0)));
    for (const double celsius : {-0.1, 100.1, not_a_number})
        CHECK_FALSE(glycol_mixture(40.0, Temperature::celsius(celsius)));
}
