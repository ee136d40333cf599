// Control charts.
#include "audit/charts.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <limits>

#include "measure/distributions.hpp"

using namespace wm::audit;

TEST_CASE("the share chart agrees with the handbook example") {
    // NIST/SEMATECH e-Handbook 6.3.3.2.
    std::vector<Tally> weeks;
    for (const int failed : {12, 15, 8, 10, 4,  7,  16, 9,  14, 10, 5,  6, 17, 12, 22,
                             8,  10, 5, 13, 11, 20, 18, 24, 15, 9,  12, 7, 13, 9,  6}) {
        weeks.push_back({failed, 50});
    }
    const auto chart = share_chart(weeks);
    REQUIRE(chart);
    CHECK(std::abs(chart->centre - 0.2313) <= 0.0001);
    for (const Interval& limits : chart->limits) {
        CHECK(std::abs(limits.low - 0.0524) <= 0.0002);
        CHECK(std::abs(limits.high - 0.4102) <= 0.0002);
    }
}

TEST_CASE("each week has the limits of its own number of tries, and none below nought") {
    // Arithmetic.
    const std::vector<Tally> weeks{{4, 50}, {6, 60}, {3, 45}};
    const auto chart = share_chart(weeks);
    REQUIRE(chart);
    CHECK(chart->centre == doctest::Approx(0.0838709677419).epsilon(1e-9));
    const double high[] = {0.201474509917, 0.191227822562, 0.207835985801};
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(chart->limits[i].low == 0.0);
        CHECK(std::abs(chart->limits[i].high - high[i]) <= 1e-9);
    }
}

TEST_CASE("a week too small for the chart is watched with exact limits") {
    const auto enough = watch_limits(0.1, 50);
    REQUIRE(enough);
    CHECK(enough->high == doctest::Approx(0.1 + 3.0 * std::sqrt(0.09 / 50.0)));
    const auto small = watch_limits(0.01, 30);
    REQUIRE(small);
    const auto count = static_cast<std::int64_t>(std::lround(small->high * 30.0));
    CHECK(wm::measure::binomial_cdf(count, {30, 0.01}) >= 0.99865);
    CHECK(wm::measure::binomial_cdf(count - 1, {30, 0.01}) < 0.99865);
    CHECK(watch_limits(0.0, 10)->high == 0.0);
    CHECK_FALSE(watch_limits(1.1, 10));
    CHECK_FALSE(watch_limits(0.1, 0));
}

TEST_CASE("the count chart agrees with the handbook example") {
    // NIST/SEMATECH e-Handbook 6.3.3.1.
    const std::vector<std::int64_t> counts{16, 14, 28, 16, 12, 20, 10, 12, 10, 17, 19, 17, 14,
                                           16, 15, 13, 14, 16, 11, 20, 11, 19, 16, 31, 13};
    const auto chart = count_chart(counts);
    REQUIRE(chart);
    CHECK(chart->centre == 16.0);
    CHECK(chart->limits.front().low == 4.0);
    CHECK(chart->limits.front().high == 28.0);
}

TEST_CASE("rare defects have exact limits, which false alarms rarely pass") {
    const std::vector<std::int64_t> counts{1, 0, 2, 1, 0, 0, 1, 3};
    const auto chart = count_chart(counts);
    REQUIRE(chart);
    const auto high = static_cast<std::int64_t>(chart->limits.front().high);
    CHECK(wm::measure::poisson_cdf(high, 1.0) >= 0.99865);
    CHECK(wm::measure::poisson_cdf(high - 1, 1.0) < 0.99865);
    CHECK(chart->limits.front().low == 0.0);
}

TEST_CASE("the rate chart weighs each week by its opportunities") {
    // Arithmetic.
    const auto chart = rate_chart(std::vector<DefectRate>{{9, 4}, {12, 5}, {7, 4}, {15, 6}});
    REQUIRE(chart);
    CHECK(chart->centre == doctest::Approx(2.26315789474).epsilon(1e-9));
    const double low[] = {0.00658853769109, 0.244820903418, 0.00658853769109, 0.420676730083};
    const double high[] = {4.51972725178, 4.28149488606, 4.51972725178, 4.10563905939};
    for (std::size_t i = 0; i < 4; ++i) {
        CHECK(std::abs(chart->limits[i].low - low[i]) <= 1e-9);
        CHECK(std::abs(chart->limits[i].high - high[i]) <= 1e-9);
    }
}

TEST_CASE("the weighted average agrees with the handbook example") {
    // NIST/SEMATECH e-Handbook 6.3.2.4; data recalled, all 20 points reproduce.
    const std::vector<double> values{52,   47,   53,   49.3, 50.1, 47,   51,   50.1, 51.2, 50.5,
                                     49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1};
    const auto chart = weighted_average(values, {50.0, 2.0539}, {0.3, 3.0});
    REQUIRE(chart);
    CHECK(std::abs(chart->averages.back() - 51.99) <= 0.006);
    CHECK(std::abs(chart->settled.high - 52.5884) <= 0.01);
    CHECK(std::abs(chart->settled.low - 47.4115) <= 0.01);
    CHECK_FALSE(chart->first_signal);
    // The first limit is that of a single value: L λ σ.
    CHECK(chart->limits.front().high == doctest::Approx(50.0 + 3.0 * 0.3 * 2.0539));
    for (std::size_t i = 1; i < chart->limits.size(); ++i) {
        CHECK(chart->limits[i].high > chart->limits[i - 1].high);
        CHECK(chart->limits[i].high < chart->settled.high);
    }
}

TEST_CASE("with all the weight on the last value the average is the value") {
    const std::vector<double> values{1.0, -2.0, 9.0};
    const auto chart = weighted_average(values, {0.0, 2.0}, {1.0, 3.0});
    REQUIRE(chart);
    CHECK(chart->averages == values);
    CHECK(chart->first_signal == std::size_t{2});
}

TEST_CASE("the cumulative sum agrees with the handbook example") {
    // NIST/SEMATECH e-Handbook 6.3.2.3; data recalled, the result reproduces.
    const std::vector<double> values{324.925, 324.675, 324.725, 324.35,  325.35,  325.225, 324.125,
                                     324.525, 325.225, 324.6,   324.625, 325.15,  328.325, 327.25,
                                     327.825, 328.5,   326.675, 327.775, 326.875, 328.35};
    const auto chart = cumulative_sum(values, 325.0, {.slack = 0.3175, .decision = 4.1959});
    REQUIRE(chart);
    CHECK(std::abs(chart->upward.back() - 19.04) <= 0.01);
    CHECK(chart->first_signal == std::size_t{13});  // the fourteenth value
    for (const double sum : chart->downward) CHECK(sum >= 0.0);
}

TEST_CASE("mirrored values exchange the upward and the downward sum") {
    const std::vector<double> values{1.2, -0.3, 2.2, 0.4, -3.0};
    std::vector<double> mirrored;
    for (const double value : values) mirrored.push_back(-value);
    const auto one = cumulative_sum(values, 0.0, {.slack = 0.5, .decision = 4.0});
    const auto other = cumulative_sum(mirrored, 0.0, {.slack = 0.5, .decision = 4.0});
    CHECK(one->upward == other->downward);
    CHECK(one->downward == other->upward);
}

TEST_CASE("charts without figures are refused") {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    CHECK_FALSE(share_chart({}));
    CHECK_FALSE(share_chart(std::vector<Tally>{{0, 0}}));
    CHECK_FALSE(count_chart({}));
    CHECK_FALSE(count_chart(std::vector<std::int64_t>{-1}));
    CHECK_FALSE(rate_chart(std::vector<DefectRate>{{1, 0.0}}));
    CHECK_FALSE(rate_chart(std::vector<DefectRate>{{1, nan}}));
    CHECK_FALSE(weighted_average({}, {0.0, 1.0}));
    CHECK_FALSE(weighted_average(std::vector<double>{nan}, {0.0, 1.0}));
    CHECK_FALSE(weighted_average(std::vector<double>{1.0}, {0.0, 0.0}));
    CHECK_FALSE(weighted_average(std::vector<double>{1.0}, {0.0, 1.0}, {0.0, 3.0}));
    CHECK_FALSE(cumulative_sum({}, 0.0, {}));
    CHECK_FALSE(cumulative_sum(std::vector<double>{1.0}, 0.0, {.slack = -1.0, .decision = 1.0}));
    CHECK_FALSE(cumulative_sum(std::vector<double>{1.0}, nan, {}));
}
