// Exact tests.
#include "audit/fisher.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>

#include "measure/distributions.hpp"

using namespace wm::audit;

TEST_CASE("the lady tasting tea comes out as printed") {
    // Fisher 1935; Agresti, Categorical Data Analysis.
    const auto test = fisher_exact({{3, 4}, {1, 4}});
    REQUIRE(test);
    CHECK(std::abs(test->two_sided - 0.4857) <= 0.0001);
    CHECK(std::abs(test->greater - 0.2429) <= 0.0001);
}

TEST_CASE("a crew beside the others agrees with a computed value") {
    // scipy 1.10.1 fisher_exact.
    const auto test = fisher_exact({{7, 30}, {2, 40}});
    REQUIRE(test);
    CHECK(test->two_sided == doctest::Approx(0.03244152788).epsilon(1e-6));
    CHECK(test->greater == doctest::Approx(0.02823694471).epsilon(1e-6));
}

TEST_CASE("the exact test has its symmetries on all small tables") {
    for (int a = 0; a <= 5; ++a) {
        for (int b = 0; b <= 5; ++b) {
            for (int c = 0; c <= 5; ++c) {
                for (int d = 0; d <= 5; ++d) {
                    if (a + b + c + d == 0) continue;
                    const Tally first{a, a + b};
                    const Tally second{c, c + d};
                    const auto test = *fisher_exact({first, second});
                    const auto swapped = *fisher_exact({second, first});
                    const auto turned = *fisher_exact({{a, a + c}, {b, b + d}});
                    CHECK(test.two_sided == doctest::Approx(swapped.two_sided).epsilon(1e-10));
                    CHECK(test.greater == doctest::Approx(swapped.less).epsilon(1e-10));
                    CHECK(test.two_sided == doctest::Approx(turned.two_sided).epsilon(1e-10));
                    CHECK(test.two_sided <= 1.0);
                    CHECK(test.two_sided >= std::min(test.greater, test.less) * (1.0 - 1e-9));
                    CHECK(test.mid_two_sided < test.two_sided);
                    CHECK(test.mid_greater < test.greater);
                }
            }
        }
    }
}

TEST_CASE("one stratum is a plain exact test, and strata that say nothing change nothing") {
    const Comparison seen{{7, 30}, {2, 40}};
    const auto plain = *fisher_exact(seen);
    const auto one = *stratified_exact(std::vector<Comparison>{seen});
    const auto more = *stratified_exact(std::vector<Comparison>{
        {{0, 0}, {3, 9}}, seen, {{4, 9}, {0, 0}}, {{0, 12}, {0, 8}}, {{5, 5}, {2, 2}}});
    for (const auto& test : {one, more}) {
        CHECK(test.two_sided == doctest::Approx(plain.two_sided).epsilon(1e-9));
        CHECK(test.greater == doctest::Approx(plain.greater).epsilon(1e-9));
        CHECK(test.less == doctest::Approx(plain.less).epsilon(1e-9));
        CHECK(test.mid_greater == doctest::Approx(plain.mid_greater).epsilon(1e-9));
    }
}

TEST_CASE("two strata agree with counting all pairs of tables") {
    const std::vector<Comparison> strata{{{3, 5}, {1, 6}}, {{2, 4}, {2, 7}}};
    const wm::measure::Hypergeometric one{.total = 11, .marked = 4, .drawn = 5};
    const wm::measure::Hypergeometric other{.total = 11, .marked = 4, .drawn = 4};
    double greater = 0.0;
    for (auto a = one.fewest(); a <= one.most(); ++a) {
        for (auto b = other.fewest(); b <= other.most(); ++b) {
            if (a + b < 5) continue;
            greater +=
                wm::measure::hypergeometric_pmf(a, one) * wm::measure::hypergeometric_pmf(b, other);
        }
    }
    CHECK(stratified_exact(strata)->greater == doctest::Approx(greater).epsilon(1e-12));
}

TEST_CASE("like beside like sees no difference where the mixture of roofs makes one") {
    // On easy roofs both fail at 1 in 20, on hard ones at 2 in 5; the first has the hard roofs.
    const std::vector<Comparison> strata{{{1, 20}, {8, 160}}, {{32, 80}, {4, 10}}};
    const Comparison pooled{{33, 100}, {12, 170}};
    CHECK(fisher_exact(pooled)->two_sided < 1e-6);
    CHECK(stratified_exact(strata)->two_sided > 0.5);
}

TEST_CASE("mid values of many tests without a difference lie evenly") {
    std::mt19937_64 random{8};
    std::binomial_distribution<int> failures{60, 0.2};
    int below_tenth = 0;
    int below_half = 0;
    constexpr int trials = 4000;
    for (int i = 0; i < trials; ++i) {
        const auto test = *fisher_exact({{failures(random), 60}, {failures(random), 60}});
        below_tenth += test.mid_greater <= 0.1 ? 1 : 0;
        below_half += test.mid_greater <= 0.5 ? 1 : 0;
    }
    CHECK(std::abs(below_tenth / double{trials} - 0.1) < 0.025);
    CHECK(std::abs(below_half / double{trials} - 0.5) < 0.05);
}

TEST_CASE("the worked example of false discoveries rejects four of fifteen") {
    // Benjamini and Hochberg 1995, section 4.1.
    const std::vector<double> p{0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344,
                                0.0459, 0.324,  0.4262, 0.5719, 0.6528, 0.759,  1.0};
    const auto q = false_discovery(p);
    REQUIRE(q);
    CHECK(std::count_if(q->begin(), q->end(), [](double each) { return each <= 0.05; }) == 4);
}

TEST_CASE("false discovery rates stand in the order of their probabilities") {
    // statsmodels 0.13.5.
    const std::vector<double> p{0.04, 0.005, 0.3, 0.02};
    const std::vector<double> wanted{0.0533333333333, 0.02, 0.3, 0.04};
    const auto q = false_discovery(p);
    REQUIRE(q);
    for (std::size_t i = 0; i < p.size(); ++i) CHECK(std::abs((*q)[i] - wanted[i]) <= 1e-8);
}

TEST_CASE("false discovery rates keep the order, never fall below p, and allow ties") {
    const std::vector<double> p{0.2, 0.01, 0.2, 0.9, 0.01, 1.0, 0.0};
    const auto q = false_discovery(p);
    REQUIRE(q);
    for (std::size_t i = 0; i < p.size(); ++i) {
        CHECK((*q)[i] >= p[i]);
        CHECK((*q)[i] <= 1.0);
        for (std::size_t j = 0; j < p.size(); ++j) {
            if (p[i] <= p[j]) CHECK((*q)[i] <= (*q)[j]);
        }
    }
    CHECK(*false_discovery(std::vector<double>{0.03}) == std::vector<double>{0.03});
}

TEST_CASE("tests without counts are refused") {
    CHECK_FALSE(fisher_exact({{0, 0}, {0, 0}}));
    CHECK_FALSE(fisher_exact({{-1, 3}, {0, 2}}));
    CHECK_FALSE(fisher_exact({{4, 3}, {0, 2}}));
    CHECK_FALSE(stratified_exact({}));
    CHECK_FALSE(stratified_exact(std::vector<Comparison>{{{4, 3}, {0, 2}}}));
    CHECK_FALSE(false_discovery({}));
    CHECK_FALSE(false_discovery(std::vector<double>{0.5, 1.1}));
    CHECK_FALSE(false_discovery(std::vector<double>{std::numeric_limits<double>::quiet_NaN()}));
}

TEST_CASE("long strata agree with scipy, far out in their tails as well") {
    // scipy 1.10.1, as below. Relative, so that a tail cut off by mistake shows.
    struct Row {
        std::vector<Comparison> strata;
        double greater, less;
    };
    for (const Row& row : {
             Row{{{{60, 400}, {300, 6000}}, {{45, 500}, {500, 7000}}, {{80, 900}, {400, 8000}}}, 7.24332428032729e-14, 0.999999999999963},
             Row{{{{90, 400}, {300, 6000}}, {{95, 500}, {500, 7000}}}, 1.11092035241345e-42, 0.999999999999999},
             Row{{{{200, 400}, {300, 6000}}, {{150, 300}, {500, 7000}}}, 6.68857704909066e-205, 1.0},
             Row{{{{2, 400}, {900, 6000}}, {{3, 500}, {900, 7000}}}, 1.0, 3.27985504285439e-48},
         }) {
        const auto test = stratified_exact(row.strata);
        REQUIRE(test);
        CHECK(test->greater / row.greater == doctest::Approx(1.0).epsilon(1e-9));
        CHECK(test->less / row.less == doctest::Approx(1.0).epsilon(1e-9));
    }
}

TEST_CASE("strata and the least chance their margins allow agree with scipy") {
    // scipy 1.10.1, stats.hypergeom pmf of each stratum folded with numpy.convolve.
    struct Row {
        std::vector<Comparison> strata;
        double greater, least;
    };
    for (const Row& row : {
             Row{{{{1, 10}, {8, 23}}, {{1, 21}, {7, 60}}, {{4, 6}, {3, 55}}}, 0.484850545532084, 2.06804114009529e-19},
             Row{{{{1, 14}, {0, 17}}, {{2, 16}, {8, 28}}}, 0.867741672607202, 1.45753400498409e-06},
             Row{{{{1, 8}, {1, 41}}, {{0, 27}, {7, 74}}, {{2, 5}, {2, 45}}}, 0.503277795969506, 2.66892108924737e-11},
             Row{{{{2, 20}, {3, 61}}, {{0, 27}, {4, 21}}}, 0.937476948378471, 5.45778599385784e-05},
         }) {
        const auto test = stratified_exact(row.strata);
        REQUIRE(test);
        CHECK(test->greater / row.greater == doctest::Approx(1.0).epsilon(1e-9));
        CHECK(test->least_greater / row.least == doctest::Approx(1.0).epsilon(1e-9));
    }
}
