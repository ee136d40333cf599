#include "plant/copper_tube.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using wm::plant::testing::is_near;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;
using wm::units::millimetres;

TEST_CASE("bore, content and mass of two sizes") {
    // Arithmetic of the equation (numpy 1.24.2).
    struct Row {
        double outside_mm, wall_mm, bore_mm, litre_per_m, kg_per_m;
    };
    for (const Row row :
         {Row{22, 0.9, 20.2, 0.32047387, 0.53335007}, Row{15, 0.7, 13.6, 0.14526724, 0.28113924}}) {
        CAPTURE(row.outside_mm);
        const auto tube = tube_dimensions({millimetres(row.outside_mm), millimetres(row.wall_mm)});
        REQUIRE(tube);
        CHECK(is_near(tube->bore.si() * 1e3, row.bore_mm, 1e-9));
        CHECK(is_within(tube->content.si() * 1e3, row.litre_per_m, 0.001));
        CHECK(is_within(tube->mass.si(), row.kg_per_m, 0.01));
    }
}

TEST_CASE("every recommended tube has a bore, and a thicker wall leaves less of it") {
    CHECK(recommended_tubes().size() == 27);
    for (const auto& tube : recommended_tubes()) {
        const auto thin = tube_dimensions(tube);
        const auto thick = tube_dimensions({tube.outside, tube.wall + millimetres(0.1)});
        REQUIRE(thin);
        REQUIRE(thick);
        CHECK(thick->bore < thin->bore);
        CHECK(thick->content < thin->content);
        CHECK(thick->mass > thin->mass);
    }
}

TEST_CASE("a wall without a bore and sizes that are none are refused") {
    CHECK(!tube_dimensions({millimetres(22), millimetres(11)}));
    CHECK(!tube_dimensions({millimetres(0), millimetres(1)}));
    CHECK(!tube_dimensions({millimetres(22), millimetres(0)}));
    CHECK(!tube_dimensions({millimetres(22), millimetres(-1)}));
    CHECK(!tube_dimensions({millimetres(not_a_number), millimetres(1)}));
    CHECK(!tube_bore({millimetres(22), millimetres(not_a_number)}));
}
