#include "checklist/evaluate_functions.hpp"

#include <doctest/doctest.h>

#include <numbers>

namespace wm::checklist {
namespace {

double of(Function function, std::initializer_list<double> values) {
    std::vector<units::Amount> amounts;
    for (const double value : values) amounts.push_back(units::Amount::plain(value));
    const auto result = plain_function(function, amounts);
    REQUIRE(result);
    return std::get<units::Amount>(*result).si;
}

}  // namespace

TEST_CASE("rounding forgives what decimal fractions lose in binary") {
    CHECK(of(Function::Ceil, {1.1 * 10.0}) == 11);
    CHECK(of(Function::Ceil, {4.0000001}) == 5);
    CHECK(of(Function::Floor, {0.1 * 3.0 * 10.0}) == 3);
    CHECK(of(Function::Round, {-2.4}) == -2);
}

TEST_CASE("the gap between bearings goes the shorter way round, at most half a turn") {
    constexpr double degree = std::numbers::pi / 180.0;
    struct Row {
        double one, other, gap;
    };
    for (const Row row :
         {Row{355, 5, 10}, Row{5, 355, 10}, Row{0, 180, 180}, Row{90, 100, 10}, Row{720, 1, 1}}) {
        CAPTURE(row.one);
        CHECK(of(Function::BearingGap, {row.one * degree, row.other * degree}) ==
              doctest::Approx(row.gap * degree));
    }
}

TEST_CASE("warming a full store by a tenth of a kelvin lifts its pressure by about ten kilopascals") {
    // Source: trade content, about 1 bar per kelvin at 20 °C. Cooling takes the same away.
    const double rise = of(Function::FullRise, {293.15, 293.25});
    CHECK(rise > 9e3);
    CHECK(rise < 14e3);
    CHECK(of(Function::FullRise, {293.25, 293.15}) == doctest::Approx(-rise).epsilon(0.01));
    CHECK_FALSE(plain_function(Function::FullRise, {units::Amount::plain(293.15),
                                                    units::Amount::plain(323.15)}));
}

TEST_CASE("extremes and clamps give back one of their values") {
    CHECK(of(Function::Min, {3, 1, 2}) == 1);
    CHECK(of(Function::Max, {3, 1, 2}) == 3);
    CHECK(of(Function::Clamp, {3, 4, 5}) == 4);
    CHECK(of(Function::Abs, {-3}) == 3);
    CHECK(of(Function::Sqrt, {9}) == 3);
}

}  // namespace wm::checklist
