#include "plant/electric.hpp"

#include <doctest/doctest.h>

#include "plant/testing.hpp"

using namespace wm::plant;
using namespace wm::units;
using wm::plant::testing::is_within;
using wm::plant::testing::not_a_number;

namespace {
const ElementPlate plate{watts(2000), volts(230)};
Current ampere(double value) {
    return Current::from_si(value);
}
Area mm2(double value) {
    return Area::from_si(value * 1e-6);
}
const auto at_20 = Temperature::celsius(20);
}  // namespace

TEST_CASE("an element of 2000 W on 240 V") {
    // Arithmetic of Ohm's law.
    const auto element = element_at(plate, volts(240));
    REQUIRE(element);
    CHECK(is_within(element->resistance.si(), 26.45, 1e-4));
    CHECK(is_within(element->power.si(), 2177.693762, 1e-4));
    CHECK(is_within(element->current.si(), 9.073724008, 1e-4));
}

TEST_CASE("an element passes from 90 % to 105 % of its plate") {
    // Source: IEC 60335-1 clause 10.1, from memory.
    CHECK(element_from_resistance(plate, ohms(26.45))->is_within);
    CHECK(element_from_resistance(plate, ohms(29.3))->is_within);
    CHECK(!element_from_resistance(plate, ohms(29.5))->is_within);
    CHECK(element_from_resistance(plate, ohms(25.2))->is_within);
    CHECK(!element_from_resistance(plate, ohms(25.1))->is_within);
}

TEST_CASE("2.5 mm² over 25 m at 13 A") {
    // Source: IEC 60228 Table 2 for 7.41 Ω/km; the rest arithmetic.
    CHECK(is_within(conductor_resistance(mm2(2.5), ConductorClass::Stranded, at_20)->si() * 1e3,
                    7.41, 1e-9));
    const auto warm =
        conductor_resistance(mm2(2.5), ConductorClass::Stranded, Temperature::celsius(70));
    REQUIRE(warm);
    CHECK(is_within(warm->si() * 1e3, 8.8657957, 0.01));
    const auto drop = voltage_drop({*warm, metres(25), ampere(13), volts(230)});
    REQUIRE(drop);
    CHECK(is_within(drop->drop.si(), 5.7627672, 0.01));
    CHECK(is_within(drop->percent, 2.505551, 0.01));
}

TEST_CASE("thicker conductors resist less, flexible ones more") {
    double last = 1.0;
    for (const double section : {1.5, 2.5, 4.0, 6.0, 10.0, 16.0}) {
        const double rigid = conductor_resistance(mm2(section), ConductorClass::Solid, at_20)->si();
        CHECK(rigid < last);
        CHECK(conductor_resistance(mm2(section), ConductorClass::Flexible, at_20)->si() > rigid);
        last = rigid;
    }
    CHECK(!conductor_resistance(mm2(3), ConductorClass::Solid, at_20));
}

TEST_CASE("insulation is tested at 250, 500 or 1000 V") {
    // Source: IEC 60364-6, from memory.
    CHECK(insulation_test(volts(230), Circuit::Mains)->test.si() == 500.0);
    CHECK(insulation_test(volts(230), Circuit::Mains)->least.si() == 1e6);
    CHECK(insulation_test(volts(24), Circuit::ExtraLow)->test.si() == 250.0);
    CHECK(insulation_test(volts(24), Circuit::ExtraLow)->least.si() == 0.5e6);
    CHECK(insulation_test(volts(690), Circuit::Mains)->test.si() == 1000.0);
    CHECK(!insulation_test(volts(0), Circuit::Mains));
}

TEST_CASE("a device trips in time, not too early if selective, and never at half its current") {
    // Source: IEC 61008-1 limits (60 ms from memory).
    const auto ms = [](double value) { return seconds(value * 1e-3); };
    CHECK(*is_trip_accepted(BreakerType::General, 1, ms(28)));
    CHECK(*is_trip_accepted(BreakerType::General, 1, ms(300)));
    CHECK(!*is_trip_accepted(BreakerType::General, 1, ms(301)));
    CHECK(!*is_trip_accepted(BreakerType::General, 5, ms(41)));
    CHECK(!*is_trip_accepted(BreakerType::Selective, 1, ms(90)));
    CHECK(*is_trip_accepted(BreakerType::Selective, 2, ms(60)));
    CHECK(!*is_trip_accepted(BreakerType::General, 1, std::nullopt));
    CHECK(*is_trip_accepted(BreakerType::General, 0.5, std::nullopt));
    CHECK(!*is_trip_accepted(BreakerType::General, 0.5, ms(20)));
    CHECK(!is_trip_accepted(BreakerType::General, 3, ms(20)));
    CHECK(!is_trip_accepted(BreakerType::General, 1, ms(not_a_number)));
}

TEST_CASE("the earth loop of B16 and C16") {
    // Arithmetic of the rule.
    const auto b = earth_loop(volts(230), BreakerCurve::B, ampere(16), ohms(1.2));
    REQUIRE(b);
    CHECK(is_within(b->most.si(), 2.875, 1e-4));
    CHECK(is_within(b->cold_limit.si(), 1.916666667, 1e-4));
    CHECK(b->is_met);
    CHECK(!earth_loop(volts(230), BreakerCurve::C, ampere(16), ohms(1.0))->is_met);
    CHECK(is_within(electrode_limit(ampere(0.03))->si(), 1666.67, 1e-3));
}

TEST_CASE("plates, supplies and readings that cannot be are refused") {
    CHECK(!element_at({watts(0), volts(230)}, volts(230)));
    CHECK(!element_at(plate, volts(not_a_number)));
    CHECK(!element_from_resistance(plate, ohms(0)));
    CHECK(!voltage_drop({LinearResistance::from_si(0), metres(25), ampere(13), volts(230)}));
    CHECK(!earth_loop(volts(230), BreakerCurve::B, ampere(0), ohms(1)));
    CHECK(!earth_loop(volts(230), BreakerCurve::B, ampere(16), ohms(0)));
    CHECK(!electrode_limit(ampere(0)));
}
