// The probability of conformity.
#include "measure/conformity.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace wm::measure;

TEST_CASE("the probability of conformity agrees with printed and computed examples") {
    struct Row {
        Measured measured;
        Limits limits;
        double probability, tolerance;
    };
    const Row rows[] = {
        // JCGM 106:2012 clause 7, a breakdown voltage with an upper limit; from memory.
        {{-5.47, 0.05}, {std::nullopt, -5.4}, 0.919, 0.0005},
        // scipy 1.10.1 norm.cdf.
        {{2.95, 0.06}, {2.8, std::nullopt}, 0.9937903347, 0.9937903347e-6},
        {{50.6, 0.5}, {45.0, 51.0}, 0.7881446014, 0.7881446014e-6},
    };
    for (const Row& row : rows) {
        CAPTURE(row.measured.value);
        const auto probability = probability_conforming(row.measured, row.limits);
        REQUIRE(probability);
        CHECK(std::abs(*probability - row.probability) < row.tolerance);
    }
}

TEST_CASE("with no uncertainty the probability is one within the limits and nought outside") {
    CHECK(*probability_conforming({5.0, 0.0}, {5.0, 6.0}) == 1.0);
    CHECK(*probability_conforming({6.0, 0.0}, {5.0, 6.0}) == 1.0);
    CHECK(*probability_conforming({6.1, 0.0}, {5.0, 6.0}) == 0.0);
}

TEST_CASE("far in a tail the probability keeps its digits") {
    // Φ(-10) = 7.6198530241605e-24, Abramowitz and Stegun table 26.2, from memory.
    const auto probability = probability_conforming({0.0, 1.0}, {10.0, std::nullopt});
    REQUIRE(probability);
    CHECK(*probability == doctest::Approx(7.6198530241605e-24).epsilon(1e-10));
}

TEST_CASE("a value and its mirror image conform alike") {
    for (double y = -3.0; y <= 3.0; y += 0.25) {
        CAPTURE(y);
        CHECK(*probability_conforming({y, 0.7}, {-1.0, 2.0}) ==
              doctest::Approx(*probability_conforming({-y, 0.7}, {-2.0, 1.0})).epsilon(1e-12));
    }
}

TEST_CASE("figures that are none are refused by name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_FALSE(probability_conforming({nan, 1.0}, {0.0, 1.0}));
    CHECK_FALSE(probability_conforming({0.0, -1.0}, {0.0, 1.0}));
    CHECK_FALSE(probability_conforming({0.0, 1.0}, {}));
    CHECK_FALSE(probability_conforming({0.0, 1.0}, {2.0, 1.0}));
    const auto refusal = probability_conforming({0.0, nan}, {0.0, 1.0});
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error().what == "The input u cannot be used: it must be a finite number.");
    CHECK(refusal.error().where == "conformity-probability");
}

TEST_CASE("the likelihood passes at 0.95 and fails at 0.05") {
    CHECK(likelihood_of(0.95) == Likelihood::Pass);
    CHECK(likelihood_of(0.9499) == Likelihood::Undecided);
    CHECK(likelihood_of(0.0501) == Likelihood::Undecided);
    CHECK(likelihood_of(0.05) == Likelihood::Fail);
}
