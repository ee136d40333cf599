#include "units/unit.hpp"

#include <doctest/doctest.h>

#include "units/quantity.hpp"

namespace wm::units {

namespace {
template <class A, class B>
concept addable = requires(A a, B b) { a + b; };
template <class A, class B>
concept comparable = requires(A a, B b) { a < b; };

static_assert(!addable<Temperature, Temperature>, "two temperatures have no sum");
static_assert(addable<Temperature, TemperatureRise>);
static_assert(!addable<PressureDifference, Length>);
static_assert(!comparable<GaugePressure, AbsolutePressure>, "a gauge reading is no absolute pressure");
static_assert(!addable<GaugePressure, GaugePressure>);
static_assert(!addable<Length, double>, "a bare number is no length");
static_assert(!comparable<Angle, double>);
}  // namespace

TEST_CASE("all spellings of the contract are known") {
    for (const char* text : {"kPa", "bar", "psi", "°C", "degC", "K", "mm", "m", "L", "kg", "N·m", "N m", "W", "W/m²", "W/m2", "Ω",
                             "Ohm", "MΩ", "MOhm", "V", "A", "ms", "s", "min", "h", "d", "°", "deg", "%", "mm/m", "kN", "kW", "kWh",
                             "MJ/m²", "mg/L"}) {
        CAPTURE(text);
        CHECK(unit_named(text));
    }
    CHECK_FALSE(unit_named("KPA"));
    CHECK_FALSE(unit_named("furlong"));
    CHECK(unit_named("\xE2\x84\xA6")->symbol == "Ω");
}

TEST_CASE("a temperature is a place, a difference is not") {
    const auto celsius = unit_named("°C");
    CHECK(celsius->to_si(0.0) == 273.15);
    CHECK(celsius->scale == Scale::Point);
    CHECK(unit_named("K")->scale == Scale::Plain);
    CHECK((Temperature::celsius(60.0) - Temperature::celsius(15.0)).si() == doctest::Approx(45.0));
}

TEST_CASE("gauge becomes absolute only with the air around it") {
    const auto gauge = GaugePressure::kilopascals(300.0);
    CHECK(gauge.against_vacuum(AbsolutePressure::kilopascals(76.5)).in_kilopascals() == doctest::Approx(376.5));
}

TEST_CASE("remedies name the units that would do") {
    CHECK(units_like(*unit_named("kPa")) == "Pa, kPa, MPa, GPa, bar, mbar, hPa, psi");
    CHECK(dimension_in_words(unit_named("kPa")->dimension) == "a pressure");
    CHECK(dimension_in_words(unit_named("K")->dimension) == "a temperature difference");
}

}  // namespace wm::units
