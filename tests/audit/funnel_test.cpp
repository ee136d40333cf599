// Funnel limits.
#include "audit/funnel.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

using namespace wm::audit;

TEST_CASE("funnel limits agree with computed values") {
    // scipy 1.10.1 binom, after the appendix of Spiegelhalter 2005.
    const auto small = funnel_limits({0.1, 50, 0.05});
    REQUIRE(small);
    CHECK(std::abs(small->low - 0.01386292696) <= 1e-6);
    CHECK(std::abs(small->high - 0.1797227276) <= 1e-6);
    const auto large = funnel_limits({0.1, 200, 0.002});
    REQUIRE(large);
    CHECK(std::abs(large->low - 0.0378515074) <= 1e-6);
    CHECK(std::abs(large->high - 0.1685672639) <= 1e-6);
}

TEST_CASE("the funnel holds its target and narrows with more visits") {
    // Interpolation between whole counts ripples a little, so the steps are wide.
    double width = 2.0;
    for (std::int64_t n = 1; n < 20000; n *= 4) {
        CAPTURE(n);
        const auto limits = funnel_limits({0.08, n, 0.002});
        REQUIRE(limits);
        CHECK(limits->low >= 0.0);
        CHECK(limits->low <= 0.08);
        CHECK(limits->high >= 0.08);
        CHECK(limits->high <= 1.0);
        CHECK(limits->high - limits->low < width);
        width = limits->high - limits->low;
    }
}

TEST_CASE("rarer chance means wider limits") {
    const auto often = funnel_limits({0.1, 80, 0.05});
    const auto rare = funnel_limits({0.1, 80, 0.002});
    CHECK(rare->low < often->low);
    CHECK(rare->high > often->high);
}

TEST_CASE("crews on the target have no dispersion, crews far from it have much") {
    CHECK(*overdispersion(std::vector<Tally>{{5, 50}, {8, 80}, {2, 20}}, 0.1) ==
          doctest::Approx(0.0));
    CHECK(*overdispersion(std::vector<Tally>{{15, 50}, {0, 50}, {14, 50}, {1, 50}}, 0.15) > 4.0);
}

TEST_CASE("one crew far out does not make all of them look scattered") {
    std::vector<Tally> crews(20, Tally{11, 100});
    crews.push_back({90, 100});
    CHECK(*overdispersion(crews, 0.1) < 1.0);
}

TEST_CASE("a chance too small for a double still has a funnel") {
    // Half of the smallest double is nought, and so is the chance of no failure in a million.
    const auto widest = funnel_limits({0.1, 1'000'000, std::numeric_limits<double>::denorm_min()});
    REQUIRE(widest);
    CHECK(widest->low == 0.0);
    CHECK(widest->high > 0.1);
    CHECK(widest->high <= 1.0);
}

TEST_CASE("funnels without figures are refused") {
    CHECK_FALSE(funnel_limits({0.0, 50, 0.05}));
    CHECK_FALSE(funnel_limits({1.0, 50, 0.05}));
    CHECK_FALSE(funnel_limits({0.1, 0, 0.05}));
    CHECK_FALSE(funnel_limits({0.1, 50, 0.0}));
    CHECK_FALSE(funnel_limits({std::numeric_limits<double>::quiet_NaN(), 50, 0.05}));
    CHECK_FALSE(overdispersion(std::vector<Tally>{{1, 2}}, 0.1));
    CHECK_FALSE(overdispersion(std::vector<Tally>{{1, 2}, {0, 0}}, 0.1));
}
