// Least squares.
#include "measure/line_fit.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

using namespace wm::measure;

namespace {

// NIST StRD, linear regression, data set Norris; the data reproduce the certificate.
const std::vector<double> norris_x{0.2,   337.4, 118.2, 884.6, 10.1,  226.5, 666.3, 996.3, 448.6,
                                   777,   558.2, 0.4,   0.6,   775.5, 666.9, 338,   447.5, 11.6,
                                   556,   228.1, 995.8, 887.6, 120.2, 0.3,   0.3,   556.8, 339.1,
                                   887.2, 999,   779,   11.1,  118.3, 229.2, 669.1, 448.9, 0.5};
const std::vector<double> norris_y{0.1,   338.8, 118.1, 888,   9.2,   228.1, 668.5, 998.5, 449.1,
                                   778.9, 559.2, 0.3,   0.1,   778.1, 668.8, 339.3, 448.9, 10.8,
                                   557.7, 228.3, 998,   888.8, 119.6, 0.3,   0.6,   557.6, 339.3,
                                   888,   998.5, 778.9, 10.2,  117.6, 228.9, 668.4, 449.2, 0.2};

}  // namespace

TEST_CASE("the fit of the Norris data has the certified values") {
    const auto fit = fitted_line(norris_x, norris_y);
    REQUIRE(fit);
    CHECK(std::abs(fit->slope / 1.00211681802045 - 1.0) < 1e-11);
    CHECK(std::abs(fit->intercept / -0.262323073774029 - 1.0) < 1e-9);
    CHECK(std::abs(fit->scatter / 0.884796396144373 - 1.0) < 1e-9);
    CHECK(std::abs(fit->slope_uncertainty / 0.429796848199937e-3 - 1.0) < 1e-9);
}

TEST_CASE("a slow drop of pressure is found with its uncertainty") {
    // scipy 1.10.1 linregress.
    const std::vector<double> minutes{0, 5, 10, 15, 20};
    const std::vector<double> kilopascals{400, 399.6, 399.5, 399.1, 398.9};
    const auto fit = fitted_line(minutes, kilopascals);
    REQUIRE(fit);
    CHECK(fit->slope == doctest::Approx(-0.054).epsilon(1e-8));
    CHECK(fit->intercept == doctest::Approx(399.96).epsilon(1e-9));
    CHECK(fit->scatter == doctest::Approx(0.07958224258).epsilon(1e-6));
    CHECK(fit->slope_uncertainty == doctest::Approx(0.005033222957).epsilon(1e-6));
}

TEST_CASE("large clock values cost no digits") {
    const std::vector<double> minutes{0, 5, 10, 15, 20};
    std::vector<double> clock;
    for (const double minute : minutes) clock.push_back(1.8e9 + minute);
    const std::vector<double> kilopascals{400, 399.6, 399.5, 399.1, 398.9};
    CHECK(fitted_line(clock, kilopascals)->slope ==
          doctest::Approx(fitted_line(minutes, kilopascals)->slope).epsilon(1e-12));
}

TEST_CASE("points on a line have no scatter, and the order of readings does not matter") {
    const std::vector<double> x{3, 1, 2, 8};
    const std::vector<double> y{7, 3, 5, 17};
    const auto fit = fitted_line(x, y);
    REQUIRE(fit);
    CHECK(fit->slope == doctest::Approx(2.0));
    CHECK(fit->intercept == doctest::Approx(1.0));
    CHECK(std::abs(fit->scatter) < 1e-12);
    const std::vector<double> x_sorted{1, 2, 3, 8};
    const std::vector<double> y_sorted{3, 5, 7, 17};
    CHECK(fitted_line(x_sorted, y_sorted)->slope == doctest::Approx(fit->slope));
}

TEST_CASE("the interval of a slope uses Student's t, not the normal quantile") {
    const auto fit = fitted_line(std::vector<double>{0, 5, 10, 15, 20},
                                 std::vector<double>{400, 399.6, 399.5, 399.1, 398.9});
    const auto interval = slope_interval(*fit, 0.95);
    REQUIRE(interval);
    // t of three degrees of freedom at 97.5 %: 3.182, any table.
    CHECK(std::abs((interval->high - fit->slope) / fit->slope_uncertainty - 3.182) < 0.0005);
    CHECK(interval->high + interval->low == doctest::Approx(2.0 * fit->slope));
    CHECK_FALSE(slope_interval(*fit, 1.0));
}

TEST_CASE("readings that make no line are refused by name") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const std::vector<double> three{1, 2, 3};
    CHECK_FALSE(fitted_line({}, {}));
    CHECK_FALSE(fitted_line(std::vector<double>{1, 2}, std::vector<double>{1, 2}));
    CHECK_FALSE(fitted_line(three, std::vector<double>{1, 2, 3, 4}));
    CHECK_FALSE(fitted_line(three, std::vector<double>{1, nan, 3}));
    CHECK_FALSE(fitted_line(std::vector<double>{1e200, -1e200, 0}, three));
    const auto refusal = fitted_line(std::vector<double>{2, 2, 2}, three);
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error().what == "The input x cannot be used: not all of them can be equal.");
}
