#include "plant/fasteners.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_near;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

namespace {
const Thread m8{millimetres(8), millimetres(1.25)};
const Thread m10{millimetres(10), millimetres(1.5)};
const auto class_70 = pascals(450e6);
}  // namespace

TEST_CASE("stress areas of M8 and M10") {
    // Source: ISO 898-1 nominal stress area, from memory.
    CHECK(is_near(stress_area(m8)->si() * 1e6, 36.6, 0.06));
    CHECK(is_near(stress_area(m10)->si() * 1e6, 58.0, 0.06));
}

TEST_CASE("20 N·m on a dry M8 pull with 12.5 kN") {
    // Arithmetic of the short form.
    const auto preload = bolt_preload({m8, newton_metres(20), 0.20, class_70});
    REQUIRE(preload);
    CHECK(is_within(preload->force.si(), 12500, 1e-4));
    REQUIRE(preload->utilisation);
    CHECK(is_within(*preload->utilisation, 0.75877856, 1e-3));
    CHECK(!bolt_preload({m8, newton_metres(20), 0.20, std::nullopt})->utilisation);
}

TEST_CASE("the long form agrees with the table of its guideline") {
    // Source: VDI 2230-1 Table A1, M10-8.8 at 0.12, from memory: 29.6 kN.
    CHECK(is_within(bolt_assembly({m10, pascals(640e6), 0.12, std::nullopt})->preload.si(), 29600,
                    0.5));
    // Arithmetic of the equation.
    const auto assembly =
        bolt_assembly({m8, class_70, 0.14, HeadFriction{millimetres(10.3), 0.14}});
    REQUIRE(assembly);
    CHECK(is_within(assembly->preload.si(), 12748.731, 1e-3));
    REQUIRE(assembly->torque);
    CHECK(is_within(assembly->torque->si(), 19.182681, 1e-3));
}

TEST_CASE("a rougher thread takes preload away and asks for more torque") {
    const auto smooth = bolt_assembly({m8, class_70, 0.10, HeadFriction{millimetres(10.3), 0.10}});
    const auto rough = bolt_assembly({m8, class_70, 0.20, HeadFriction{millimetres(10.3), 0.20}});
    CHECK(rough->preload < smooth->preload);
    CHECK(*rough->torque > *smooth->torque);
}

TEST_CASE("threads and frictions that cannot be are refused") {
    CHECK(!stress_area({millimetres(8), millimetres(8)}));
    CHECK(!stress_area({millimetres(not_a_number), millimetres(1)}));
    CHECK(!bolt_preload({m8, newton_metres(20), 0.0, class_70}));
    CHECK(!bolt_preload({m8, newton_metres(-1), 0.2, class_70}));
    CHECK(!bolt_assembly({m8, pascals(0), 0.1, std::nullopt}));
    CHECK(!bolt_assembly({m8, class_70, not_a_number, std::nullopt}));
}
