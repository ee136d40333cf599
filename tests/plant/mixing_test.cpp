#include "plant/mixing.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_near;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

namespace {
Temperature at(double celsius) {
    return Temperature::celsius(celsius);
}
}  // namespace

TEST_CASE("50 °C from 70 °C and 15 °C is 64 % hot") {
    // Arithmetic of the balance.
    CHECK(is_near(*hot_share({at(50), at(70), at(15)}), 0.6363636364, 1e-6));
    CHECK(is_near(*hot_share({at(45), at(85), at(10)}), 0.4666666667, 1e-6));
    CHECK(is_near(
        mixed_temperature(at(70), at(15), *hot_share({at(50), at(70), at(15)}))->in_celsius(), 50,
        1e-9));
    CHECK(is_near(mixed_volume(litres(150), {at(45), at(65), at(15)})->si() * 1e3, 250, 1e-9));
}

TEST_CASE("times to a scald at and between the rows of the table") {
    // Source: Moritz & Henriques 1947, secondary source; 53 °C is arithmetic on it.
    struct Row {
        double celsius, second_degree, full;
    };
    for (const Row row :
         {Row{45, 7200, 10800}, Row{49, 480, 600}, Row{53, 45.166359, 86.94826}, Row{60, 3, 5}}) {
        CAPTURE(row.celsius);
        const auto times = scald_times(at(row.celsius));
        REQUIRE(times);
        REQUIRE(*times);
        CHECK(is_within((*times)->second_degree.si(), row.second_degree, 0.01));
        CHECK(is_within((*times)->full_thickness.si(), row.full, 0.01));
    }
    CHECK(!*scald_times(at(44.9)));
}

TEST_CASE("hotter water never takes longer to scald, and the deep burn comes later") {
    double last = 1e9;
    for (double t = 45.0; t < 70.0; t += 0.25) {
        const auto times = *scald_times(at(t));
        REQUIRE(times);
        CHECK(times->second_degree.si() <= last);
        CHECK(times->full_thickness > times->second_degree);
        last = times->second_degree.si();
    }
}

TEST_CASE("the burn integral, and that it is not conservative at 45 °C") {
    // Arithmetic of Henriques' equation.
    CHECK(is_within(burn_time(at(50))->si(), 1017.114, 0.01));
    CHECK(is_within(burn_time(at(55))->si(), 28.896161, 0.01));
    CHECK(burn_time(at(45))->si() > (*scald_times(at(45)))->full_thickness.si());
}

TEST_CASE("equal temperatures, mixtures outside and no numbers are refused") {
    CHECK(!hot_share({at(50), at(15), at(15)}));
    CHECK(!hot_share({at(75), at(70), at(15)}));
    CHECK(!hot_share({at(10), at(70), at(15)}));
    CHECK(!hot_share({at(not_a_number), at(70), at(15)}));
    CHECK(!mixed_temperature(at(70), at(15), 1.1));
    CHECK(!mixed_volume(litres(150), {at(15), at(70), at(15)}));
    CHECK(!scald_times(at(not_a_number)));
    CHECK(!scald_times(at(101)));
    CHECK(!burn_time(at(56)));
    CHECK(!burn_time(at(43)));
}
