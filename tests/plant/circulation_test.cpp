#include "plant/circulation.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

namespace {
Loop loop() {
    return {{Temperature::celsius(30), Temperature::celsius(40), metres(0.5)},
            {.bore = millimetres(20.2), .length = metres(6), .fittings = 10},
            FlowResistance::from_si(300)};
}
}  // namespace

TEST_CASE("a metre between 30 °C and 50 °C drives with 75 Pa") {
    // Source: density from python3-iapws 1.5.2 (IF97).
    const TwoLegs legs{Temperature::celsius(30), Temperature::celsius(50), metres(1)};
    CHECK(is_within(thermosiphon_head(legs)->si(), 74.575302, 0.2));
    const TwoLegs reversed{legs.hot, legs.cold, legs.height};
    CHECK(is_within(thermosiphon_head(reversed)->si(), -thermosiphon_head(legs)->si(), 1e-9));
}

TEST_CASE("Darcy's factor: laminar law, Colebrook's root, Haaland's form") {
    // Source: scipy 1.10.1 brentq.
    CHECK(is_within(*friction_factor(1e5, 1e-4), 0.018513866, 1e-3));
    CHECK(is_within(*explicit_friction_factor(1e5, 1e-4), 0.01826505301, 1e-4));
    CHECK(is_within(*friction_factor(1000, 1e-4), 0.064, 1e-9));
}

TEST_CASE("Darcy's factor does not jump where its laws meet") {
    for (const double meeting : {2300.0, 4000.0})
        CHECK(is_within(*friction_factor(meeting * (1 + 1e-9), 1e-4),
                        *friction_factor(meeting * (1 - 1e-9), 1e-4), 1e-4));
}

TEST_CASE("friction in a laminar and a turbulent pipe") {
    // Source: density and viscosity python3-iapws 1.5.2; roots scipy 1.10.1.
    const PipeRun pipe{.bore = millimetres(20.2), .length = metres(6), .fittings = 8};
    const auto slow = pipe_friction(pipe, MassFlow::from_si(0.015), Temperature::celsius(40));
    REQUIRE(slow);
    CHECK(is_within(slow->reynolds, 1448.4854, 0.2));
    CHECK(is_within(slow->loss.si(), 23.320269, 0.3));
    const PipeRun longer{.bore = millimetres(20.2), .length = metres(10), .fittings = 5};
    CHECK(is_within(
        pipe_friction(longer, MassFlow::from_si(0.2), Temperature::celsius(60))->loss.si(),
        3368.4651, 0.3));
}

TEST_CASE("the loop settles where head and friction balance") {
    // Source: properties python3-iapws 1.5.2; root scipy 1.10.1.
    const auto flow = thermosiphon_flow(loop());
    REQUIRE(flow);
    CHECK(is_within(flow->head.si(), 16.807553, 0.2));
    CHECK(is_within(flow->flow.si(), 0.0092223429, 0.5));
    CHECK(is_within(flow->heat.si(), 385.39714, 0.5));
    auto higher = loop();
    higher.legs.height = metres(1);
    CHECK(thermosiphon_flow(higher)->flow > flow->flow);
}

TEST_CASE("a loop without drive and pipes that cannot be are refused") {
    auto upside_down = loop();
    upside_down.legs.height = metres(-0.5);
    CHECK(thermosiphon_flow(upside_down).error().what == "Nothing drives this loop.");
    auto blocked = loop();
    blocked.pipe.bore = metres(0);
    CHECK(!thermosiphon_flow(blocked));
    CHECK(!pipe_friction(loop().pipe, MassFlow::from_si(0), Temperature::celsius(40)));
    CHECK(!pipe_friction(loop().pipe, MassFlow::from_si(not_a_number), Temperature::celsius(40)));
    CHECK(!pipe_friction(loop().pipe, MassFlow::from_si(0.01), Temperature::celsius(115)));
    CHECK(!friction_factor(0, 1e-4));
    CHECK(!friction_factor(1e5, 0.1));
    CHECK(!explicit_friction_factor(2000, 1e-4));
    CHECK(!thermosiphon_head(
        {Temperature::celsius(30), Temperature::celsius(50), metres(not_a_number)}));
}

TEST_CASE("antifreeze creeps where water would run") {
    // Source: ASHRAE Handbook Fundamentals 2001, chapter 21, all its rows each 5 K; root by scipy 1.10.1.
    const Loop with_antifreeze{{Temperature::celsius(30), Temperature::celsius(45), metres(0.9)},
                               {.bore = millimetres(20), .length = metres(3), .fittings = 6},
                               FlowResistance::from_si(800),
                               40.0};
    const auto flow = thermosiphon_flow(with_antifreeze);
    REQUIRE(flow);
    CHECK(is_within(flow->head.si(), 77.5804, 1.0));
    CHECK(is_within(flow->flow.si(), 0.0231920, 1.0));
    CHECK(is_within(flow->heat.si(), 1307.94, 1.0));
    auto stronger = with_antifreeze;
    stronger.glycol_percent = 60.0;
    CHECK(thermosiphon_flow(stronger)->flow < flow->flow);
    auto boiling = with_antifreeze;
    boiling.legs.hot = Temperature::celsius(101);
    CHECK_FALSE(thermosiphon_flow(boiling));
    auto nothing = with_antifreeze;
    nothing.glycol_percent = 5.0;
    CHECK_FALSE(thermosiphon_flow(nothing));
}
