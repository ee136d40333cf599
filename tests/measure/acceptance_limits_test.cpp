// Guard bands.
#include "measure/acceptance_limits.hpp"

#include <doctest/doctest.h>

#include <limits>

using namespace wm::measure;

TEST_CASE("a guard band takes the uncertainty off each limit") {
    // Arithmetic of JCGM 106:2012, clause 8.
    const auto acceptance = acceptance_limits({45.0, 55.0}, {1.0, 1.0});
    REQUIRE(acceptance);
    CHECK(acceptance->limits.low == doctest::Approx(46.0));
    CHECK(acceptance->limits.high == doctest::Approx(54.0));
    CHECK(acceptance->uncertainty_ratio == doctest::Approx(5.0));
    CHECK(acceptance->capability == doctest::Approx(5.0));
    CHECK_FALSE(acceptance->nothing_left);
}

TEST_CASE("the symmetrical ruling rejects only beyond the guard band outside") {
    const Limits tolerance{45.0, 55.0};
    CHECK(*symmetrical_ruling(54.0, tolerance, {1.0, 1.0}) == Ruling::Accept);
    CHECK(*symmetrical_ruling(54.4, tolerance, {1.0, 1.0}) == Ruling::Undecided);
    CHECK(*symmetrical_ruling(55.9, tolerance, {1.0, 1.0}) == Ruling::Undecided);
    CHECK(*symmetrical_ruling(56.2, tolerance, {1.0, 1.0}) == Ruling::Reject);
    CHECK(*symmetrical_ruling(43.9, tolerance, {1.0, 1.0}) == Ruling::Reject);
    CHECK(*symmetrical_ruling(54.4, tolerance, {1.0, 0.0}) == Ruling::Accept);
}

TEST_CASE("an instrument wider than the tolerance is unfit but can still reject") {
    const auto acceptance = acceptance_limits({49.0, 51.0}, {1.5, 1.0});
    REQUIRE(acceptance);
    CHECK(acceptance->nothing_left);
    CHECK(*symmetrical_ruling(50.0, {49.0, 51.0}, {1.5, 1.0}) == Ruling::Undecided);
    CHECK(*symmetrical_ruling(53.0, {49.0, 51.0}, {1.5, 1.0}) == Ruling::Reject);
}

TEST_CASE("a single limit has no ratio") {
    const auto acceptance = acceptance_limits({std::nullopt, 55.0}, {1.0, 1.0});
    REQUIRE(acceptance);
    CHECK_FALSE(acceptance->limits.low);
    CHECK(acceptance->limits.high == 54.0);
    CHECK_FALSE(acceptance->uncertainty_ratio);
}

TEST_CASE("an exact reading has no ratio") {
    const auto acceptance = acceptance_limits({45.0, 55.0}, {0.0, 1.0});
    REQUIRE(acceptance);
    CHECK_FALSE(acceptance->uncertainty_ratio);
    CHECK(acceptance->limits.low == 45.0);
}

TEST_CASE("figures that are none are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_FALSE(acceptance_limits({}, {1.0, 1.0}));
    CHECK_FALSE(acceptance_limits({2.0, 1.0}, {1.0, 1.0}));
    CHECK_FALSE(acceptance_limits({nan, 1.0}, {1.0, 1.0}));
    CHECK_FALSE(acceptance_limits({0.0, 1.0}, {-1.0, 1.0}));
    CHECK_FALSE(acceptance_limits({0.0, 1.0}, {1.0, nan}));
    CHECK_FALSE(symmetrical_ruling(nan, {0.0, 1.0}, {1.0, 1.0}));
}
