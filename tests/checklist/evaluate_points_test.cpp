#include "checklist/evaluate_points.hpp"

#include <doctest/doctest.h>

namespace wm::checklist {
namespace {

std::vector<units::Amount> column() {
    return {units::Amount::plain(3), units::Amount::plain(1), units::Amount::plain(2)};
}

double number(const Evaluated& value) {
    REQUIRE(value);
    return std::get<units::Amount>(*value).si;
}

}  // namespace

TEST_CASE("a column of readings is summed up by each function in its own way") {
    const std::vector<double> times{0, 60, 120};
    CHECK(number(summary_of(Function::First, column(), times, 0)) == 3);
    CHECK(number(summary_of(Function::Last, column(), times, 0)) == 2);
    CHECK(number(summary_of(Function::Smallest, column(), times, 0)) == 1);
    CHECK(number(summary_of(Function::Largest, column(), times, 0)) == 3);
    CHECK(number(summary_of(Function::Mean, column(), times, 0)) == doctest::Approx(2));
    CHECK(number(summary_of(Function::Count, column(), times, 0)) == 3);
    CHECK(number(summary_of(Function::Duration, column(), times, 0)) == 120);
    CHECK(number(summary_of(Function::LargestLate, column(), times, 60)) == 2);
    CHECK(number(summary_of(Function::MeanLate, column(), times, 60)) == doctest::Approx(1.5));
}

TEST_CASE("places have no time, so a late part of them is no value") {
    const auto value = summary_of(Function::SmallestLate, column(), {}, 60);
    REQUIRE(!value);
    CHECK(value.error().trouble == "a time where readings have none");
}

}  // namespace wm::checklist
