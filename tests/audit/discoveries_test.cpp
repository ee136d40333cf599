#include "audit/discoveries.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "audit/fisher.hpp"

namespace wm::audit {

TEST_CASE("two kinds with their shares agree with statsmodels on what Tarone leaves over") {
    // statsmodels 0.13.5, multipletests(p / weight, method='fdr_bh') on the hypotheses that stay;
    // which stay was worked out apart, in numpy, from the definition of Tarone 1990.
    const std::vector<double> p{1e-5, 0.2, 0.004, 0.03, 0.6, 2e-4, 0.011, 0.0007};
    const std::vector<double> least{1e-9, 0.15, 1e-3, 0.02, 1e-7, 1e-6, 0.009, 2e-5};
    const std::vector<double> wanted{3.33333333333333e-05, 1.0,     0.00333333333333333, 1.0,
                                     0.9,                  0.00075, 1.0,                 0.00175};
    std::vector<Hypothesis> all;
    for (std::size_t i = 0; i < p.size(); ++i) all.push_back({p[i], least[i], i < 4 ? 0U : 1U});
    const auto q = discoveries(all, std::vector<double>{0.6, 0.4}, 0.05);
    REQUIRE(q);
    for (std::size_t i = 0; i < p.size(); ++i) {
        CAPTURE(i);
        CHECK((*q)[i] / wanted[i] == doctest::Approx(1.0).epsilon(1e-12));
    }
}

TEST_CASE("one kind in which every margin allows significance is the plain false discovery rate") {
    const std::vector<double> p{0.04, 0.005, 0.3, 0.02};
    std::vector<Hypothesis> all;
    for (const double each : p) all.push_back({each, 0.0, 0});
    const auto q = discoveries(all, std::vector<double>{1.0}, 0.05);
    const auto plain = false_discovery(p);
    REQUIRE(q);
    REQUIRE(plain);
    for (std::size_t i = 0; i < p.size(); ++i) CHECK((*q)[i] == doctest::Approx((*plain)[i]).epsilon(1e-15));
}

TEST_CASE("comparisons that can never reach significance cost the others nothing") {
    std::vector<Hypothesis> all{{0.004, 1e-6, 0}};
    const auto alone = discoveries(all, std::vector<double>{1.0}, 0.05);
    for (int i = 0; i < 500; ++i) all.push_back({0.5, 0.2, 0});
    const auto among_idle = discoveries(all, std::vector<double>{1.0}, 0.05);
    for (int i = 0; i < 500; ++i) all.push_back({0.5, 1e-6, 0});
    const auto among_able = discoveries(all, std::vector<double>{1.0}, 0.05);
    REQUIRE(alone);
    REQUIRE(among_idle);
    REQUIRE(among_able);
    CHECK((*alone)[0] == doctest::Approx(0.004));
    CHECK((*among_idle)[0] == doctest::Approx(0.004));
    CHECK((*among_able)[0] >= 0.5);
    CHECK((*among_idle)[1] == 1.0);
}

TEST_CASE("where nothing is to be found, exact tests of small counts show something no more often than the level") {
    // The property the method promises (Benjamini and Hochberg 1995, theorem 1 with all hypotheses
    // true), over weeks of 60 comparisons of two kinds; 4000 weeks know 5 % to 0.35 points.
    std::mt19937_64 random{31};
    std::binomial_distribution<int> few{25, 0.04};
    std::binomial_distribution<int> many{120, 0.04};
    int weeks_with_any = 0;
    constexpr int weeks = 4000;
    for (int week = 0; week < weeks; ++week) {
        std::vector<Hypothesis> all;
        for (std::size_t i = 0; i < 60; ++i) {
            const auto test = *fisher_exact({{few(random), 25}, {many(random), 120}});
            all.push_back({test.greater, std::min(test.least_greater, test.greater), i % 2});
        }
        const auto q = discoveries(all, std::vector<double>{0.7, 0.3}, 0.05);
        REQUIRE(q);
        weeks_with_any += std::any_of(q->begin(), q->end(), [](double each) { return each <= 0.05; }) ? 1 : 0;
    }
    CHECK(weeks_with_any / double{weeks} < 0.05 + 3.0 * 0.0035);
    CHECK(weeks_with_any > 0);
}

TEST_CASE("hypotheses without a share, shares beyond one and no hypotheses are refused") {
    const std::vector<Hypothesis> one{{0.5, 0.1, 1}};
    CHECK_FALSE(discoveries({}, std::vector<double>{1.0}, 0.05));
    CHECK_FALSE(discoveries(one, std::vector<double>{1.0}, 0.05));
    CHECK_FALSE(discoveries(one, std::vector<double>{0.7, 0.7}, 0.05));
    CHECK_FALSE(discoveries(one, std::vector<double>{1.0, 0.0}, 0.05));
    CHECK_FALSE(discoveries(one, std::vector<double>{0.5, 0.5}, 1.0));
    CHECK_FALSE(discoveries(std::vector<Hypothesis>{{1.5, 0.1, 0}}, std::vector<double>{1.0}, 0.05));
}

}  // namespace wm::audit
