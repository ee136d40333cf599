// Intervals of shares.
#include "audit/shares.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <limits>

#include "measure/distributions.hpp"

using namespace wm::audit;

TEST_CASE("Wilson intervals agree with the published table") {
    // Newcombe 1998, Statistics in Medicine 17:857-872, table I, method 3.
    struct Row {
        Tally tally;
        double low, high;
    };
    for (const Row& row : {Row{{15, 148}, 0.0624, 0.1605}, Row{{0, 20}, 0.0, 0.1611},
                           Row{{81, 263}, 0.2553, 0.3662}, Row{{1, 29}, 0.0061, 0.1718}}) {
        CAPTURE(row.tally.failed);
        const auto interval = wilson(row.tally);
        REQUIRE(interval);
        CHECK(std::abs(interval->low - row.low) <= 0.0001);
        CHECK(std::abs(interval->high - row.high) <= 0.0001);
    }
}

TEST_CASE("exact intervals agree with the published table") {
    // Newcombe 1998, as above, table I, method 5 (exact); from memory.
    struct Row {
        Tally tally;
        double low, high;
    };
    for (const Row& row : {Row{{15, 148}, 0.0578, 0.1617}, Row{{0, 20}, 0.0, 0.1684},
                           Row{{81, 263}, 0.2527, 0.3676}, Row{{1, 29}, 0.0009, 0.1776}}) {
        CAPTURE(row.tally.failed);
        const auto interval = clopper_pearson(row.tally);
        REQUIRE(interval);
        CHECK(std::abs(interval->low - row.low) <= 0.0001);
        CHECK(std::abs(interval->high - row.high) <= 0.0001);
    }
}

TEST_CASE("an exact interval ends where the count becomes improbable") {
    const auto interval = clopper_pearson({3, 25});
    REQUIRE(interval);
    using wm::measure::binomial_cdf;
    CHECK(binomial_cdf(3, {25, interval->high}) == doctest::Approx(0.025).epsilon(1e-9));
    CHECK(1.0 - binomial_cdf(2, {25, interval->low}) == doctest::Approx(0.025).epsilon(1e-9));
}

TEST_CASE("intervals hold the share, are within 0 and 1, and mirror failures into successes") {
    for (const std::int64_t n : {1, 2, 7, 40, 1000}) {
        for (std::int64_t x = 0; x <= n; x += std::max<std::int64_t>(1, n / 7)) {
            CAPTURE(n);
            CAPTURE(x);
            for (const auto& [one, other] :
                 {std::pair{*wilson({x, n}), *wilson({n - x, n})},
                  std::pair{*clopper_pearson({x, n}), *clopper_pearson({n - x, n})}}) {
                const double share = static_cast<double>(x) / static_cast<double>(n);
                CHECK(one.low >= 0.0);
                CHECK(one.low <= share);
                CHECK(one.high >= share);
                CHECK(one.high <= 1.0);
                CHECK(one.low == doctest::Approx(1.0 - other.high).epsilon(1e-9));
            }
        }
    }
}

TEST_CASE("more tries make an interval narrower, more confidence makes it wider") {
    double width = 2.0;
    for (const std::int64_t times : {1, 2, 5, 20, 300}) {
        const auto interval = wilson({3 * times, 20 * times});
        CHECK(interval->high - interval->low < width);
        width = interval->high - interval->low;
    }
    CHECK(wilson({3, 20}, 0.99)->high > wilson({3, 20}, 0.95)->high);
    CHECK(wilson({3, 20}, 0.99)->low < wilson({3, 20}, 0.95)->low);
}

TEST_CASE("the difference of two shares agrees with published and computed values") {
    // Newcombe 1998, Statistics in Medicine 17:873-890, example (b), method 10.
    const auto published = share_difference({56, 70}, {48, 80});
    REQUIRE(published);
    CHECK(published->difference == doctest::Approx(0.2).epsilon(1e-9));
    CHECK(std::abs(published->interval.low - 0.0524) <= 0.0001);
    CHECK(std::abs(published->interval.high - 0.3339) <= 0.0001);
    // statsmodels 0.13.5.
    const auto computed = share_difference({12, 50}, {4, 52});
    REQUIRE(computed);
    CHECK(computed->difference == doctest::Approx(0.163076923077).epsilon(1e-9));
    CHECK(std::abs(computed->interval.low - 0.02024929493) <= 1e-6);
    CHECK(std::abs(computed->interval.high - 0.3050695862) <= 1e-6);
    CHECK(computed->is_proven());
}

TEST_CASE("changing places changes the sign of a difference") {
    const auto one = share_difference({5, 31}, {9, 44});
    const auto other = share_difference({9, 44}, {5, 31});
    CHECK(one->difference == doctest::Approx(-other->difference));
    CHECK(one->interval.low == doctest::Approx(-other->interval.high));
    CHECK(one->interval.high == doctest::Approx(-other->interval.low));
    CHECK_FALSE(one->is_proven());
}

TEST_CASE("counts that give no share are refused by name") {
    CHECK_FALSE(wilson({0, 0}));
    CHECK_FALSE(wilson({5, 4}));
    CHECK_FALSE(wilson({-1, 4}));
    CHECK_FALSE(wilson({1, 4}, 1.0));
    CHECK_FALSE(wilson({1, 4}, std::numeric_limits<double>::quiet_NaN()));
    CHECK_FALSE(clopper_pearson({0, 0}));
    CHECK_FALSE(share_difference({1, 4}, {0, 0}));
    const auto refusal = share_difference({1, 0}, {1, 4});
    REQUIRE_FALSE(refusal);
    CHECK(refusal.error().what == "The input n1 cannot be used: at least one try is needed.");
}
