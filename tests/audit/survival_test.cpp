// Product-limit curve.
#include "audit/survival.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace wm::audit;

namespace {

std::vector<OpenTime> open_times(const std::vector<double>& times, const std::vector<int>& closed) {
    std::vector<OpenTime> all;
    for (std::size_t i = 0; i < times.size(); ++i) {
        all.push_back({times[i], closed[i] == 1 ? Ending::Closed : Ending::StillOpen});
    }
    return all;
}

}  // namespace

TEST_CASE("the curve of the published trial comes out as printed") {
    // Freireich et al. 1963, the treated arm, as in every text on survival; R survival 3.5-3.
    const auto curve = product_limit(
        open_times({6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35},
                   {1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0}));
    REQUIRE(curve);
    const double time[] = {6, 7, 10, 13, 16, 22, 23};
    const double open[] = {0.857, 0.807, 0.753, 0.69, 0.627, 0.538, 0.448};
    const double error[] = {0.0764, 0.0869, 0.0963, 0.1068, 0.1141, 0.1282, 0.1346};
    REQUIRE(curve->steps.size() == 7);
    for (std::size_t i = 0; i < 7; ++i) {
        CHECK(curve->steps[i].time == time[i]);
        CHECK(std::abs(curve->steps[i].open_share - open[i]) <= 0.0006);
        CHECK(std::abs(curve->steps[i].standard_error - error[i]) <= 0.0001);
    }
    CHECK(curve->median == 23.0);
}

TEST_CASE("a short curve agrees with a computed one") {
    // R survival 3.5-3.
    const auto curve = product_limit(open_times({3, 5, 5, 8, 10}, {1, 1, 0, 1, 0}));
    REQUIRE(curve);
    const double open[] = {0.8, 0.6, 0.3};
    const double error[] = {0.1788854382, 0.219089023, 0.2387467277};
    REQUIRE(curve->steps.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(std::abs(curve->steps[i].open_share - open[i]) <= 1e-6);
        CHECK(std::abs(curve->steps[i].standard_error - error[i]) <= 1e-6);
    }
    CHECK(curve->median == 8.0);
}

TEST_CASE("with nothing left open the curve is the plain share, in any order of the list") {
    const auto curve = product_limit(open_times({4, 1, 3, 2}, {1, 1, 1, 1}));
    REQUIRE(curve);
    REQUIRE(curve->steps.size() == 4);
    for (std::size_t i = 0; i < 4; ++i) {
        CHECK(curve->steps[i].open_share ==
              doctest::Approx(1.0 - static_cast<double>(i + 1) / 4.0));
    }
    CHECK(curve->median == 2.0);
    CHECK(curve->steps.back().standard_error == 0.0);
}

TEST_CASE("a share of exactly one half is the median, whatever the product left in its digits") {
    const auto curve = product_limit(open_times({1, 2, 3, 4, 5, 6}, {1, 1, 1, 1, 1, 1}));
    REQUIRE(curve);
    CHECK(curve->median == 3.0);
}

TEST_CASE("no median is an answer where most are open still") {
    const auto curve = product_limit(open_times({3, 8, 9, 9}, {1, 0, 0, 0}));
    REQUIRE(curve);
    CHECK_FALSE(curve->median);
    const auto none = product_limit(open_times({3, 8}, {0, 0}));
    REQUIRE(none);
    CHECK(none->steps.empty());
    CHECK_FALSE(none->median);
}

TEST_CASE("times that are none are refused") {
    CHECK_FALSE(product_limit({}));
    CHECK_FALSE(product_limit(open_times({-1}, {1})));
    CHECK_FALSE(product_limit(open_times({std::numeric_limits<double>::quiet_NaN()}, {1})));
}
