// Gamma and beta functions.
#include "measure/special_functions.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <numbers>

using namespace wm::measure;

TEST_CASE("the gamma function of a whole number is a factorial") {
    double factorial = 1.0;
    for (int n = 1; n <= 170; ++n) {
        CAPTURE(n);
        CHECK(log_gamma(n) == doctest::Approx(std::log(factorial)).epsilon(1e-14));
        factorial *= n;
    }
}

TEST_CASE("the gamma function of a half is the root of pi") {
    CHECK(log_gamma(0.5) == doctest::Approx(0.5 * std::log(std::numbers::pi)).epsilon(1e-14));
    CHECK(log_gamma(1.5) ==
          doctest::Approx(std::log(0.5 * std::sqrt(std::numbers::pi))).epsilon(1e-13));
}

TEST_CASE("ways to choose obey Pascal's rule") {
    for (int n = 2; n <= 60; ++n) {
        for (int k = 1; k < n; ++k) {
            const double sum = std::exp(log_choose(n - 1, k - 1)) + std::exp(log_choose(n - 1, k));
            CHECK(std::exp(log_choose(n, k)) == doctest::Approx(sum).epsilon(1e-12));
        }
    }
}

TEST_CASE("the beta function keeps its digits where one parameter is huge") {
    // B(a, 1) = 1/a and B(a, 2) = 1/(a(a+1)), exactly.
    for (const double a : {0.5, 3.0, 11.9, 12.1, 1e3, 1e6, 1e9}) {
        CAPTURE(a);
        CHECK(log_beta(a, 1.0) == doctest::Approx(-std::log(a)).epsilon(1e-13));
        CHECK(log_beta(2.0, a) == doctest::Approx(-std::log(a) - std::log1p(a)).epsilon(1e-13));
    }
}

TEST_CASE("the incomplete beta function has its closed forms") {
    for (double x = 0.0; x <= 1.0; x += 0.0625) {
        CAPTURE(x);
        const Share share{x, 1.0 - x};
        for (const double a : {0.5, 1.0, 2.0, 7.0, 40.0}) {
            CHECK(incomplete_beta(a, 1.0, share).value ==
                  doctest::Approx(std::pow(x, a)).epsilon(1e-12));
        }
        CHECK(incomplete_beta(2.0, 2.0, share).value ==
              doctest::Approx(x * x * (3.0 - 2.0 * x)).epsilon(1e-12));
        CHECK(incomplete_beta(0.5, 0.5, share).value ==
              doctest::Approx(2.0 / std::numbers::pi * std::asin(std::sqrt(x))).epsilon(1e-12));
    }
}

TEST_CASE("the incomplete beta function is symmetrical and its halves make one") {
    for (const double a : {0.3, 1.0, 4.5, 60.0, 5000.0}) {
        for (const double b : {0.7, 2.0, 33.0, 900.0}) {
            for (double x = 0.01; x < 1.0; x += 0.07) {
                const Share one = incomplete_beta(a, b, {x, 1.0 - x});
                const Share other = incomplete_beta(b, a, {1.0 - x, x});
                CHECK(one.value == doctest::Approx(other.complement).epsilon(1e-11));
                CHECK(one.value + one.complement == doctest::Approx(1.0).epsilon(1e-14));
            }
        }
    }
}

TEST_CASE("the incomplete gamma function has its closed forms") {
    for (double x = 0.0; x <= 12.0; x += 0.375) {
        CAPTURE(x);
        CHECK(incomplete_gamma(1.0, x).complement == doctest::Approx(std::exp(-x)).epsilon(1e-12));
        CHECK(incomplete_gamma(0.5, x).value ==
              doctest::Approx(std::erf(std::sqrt(x))).epsilon(1e-12));
        CHECK(incomplete_gamma(2.0, x).complement ==
              doctest::Approx((1.0 + x) * std::exp(-x)).epsilon(1e-12));
    }
}
