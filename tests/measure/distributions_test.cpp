// Distribution functions and quantiles.
#include "measure/distributions.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <limits>

using namespace wm::measure;

namespace {
constexpr double infinity = std::numeric_limits<double>::infinity();
}

TEST_CASE("normal quantiles agree with the table and undo the distribution") {
    // Any table of the normal distribution; from memory.
    CHECK(normal_quantile(0.975) == doctest::Approx(1.959963984540054).epsilon(1e-14));
    CHECK(normal_quantile(0.995) == doctest::Approx(2.5758293035489004).epsilon(1e-14));
    CHECK(normal_quantile(0.5) == doctest::Approx(0.0));
    for (const double p : {1e-300, 1e-20, 1e-6, 0.01, 0.3, 0.5, 0.9, 0.999999}) {
        CAPTURE(p);
        CHECK(normal_cdf(normal_quantile(p)) == doctest::Approx(p).epsilon(1e-12));
        if (p > 1e-6) CHECK(normal_quantile(1.0 - p) == doctest::Approx(-normal_quantile(p)));
    }
}

TEST_CASE("t quantiles agree with the table") {
    // Any table of Student's t; from memory, three decimals.
    struct Row {
        double p, degrees, t;
    };
    for (const Row row : {Row{0.975, 1, 12.706}, Row{0.975, 2, 4.303}, Row{0.975, 5, 2.571},
                          Row{0.975, 10, 2.228}, Row{0.975, 30, 2.042}, Row{0.95, 5, 2.015},
                          Row{0.995, 16, 2.921}, Row{0.95, 120, 1.658}}) {
        CAPTURE(row.degrees);
        CHECK(std::abs(t_quantile(row.p, row.degrees) - row.t) <= 0.0005);
    }
}

TEST_CASE("t has closed forms for one, two and unlimited degrees of freedom") {
    for (double p = 0.02; p < 1.0; p += 0.04) {
        CAPTURE(p);
        const double q = 2.0 * p - 1.0;
        CHECK(t_quantile(p, 1.0) ==
              doctest::Approx(std::tan(std::acos(-1.0) * (p - 0.5))).epsilon(1e-11));
        CHECK(t_quantile(p, 2.0) ==
              doctest::Approx(q * std::sqrt(2.0 / (1.0 - q * q))).epsilon(1e-11));
        CHECK(t_quantile(p, infinity) == doctest::Approx(normal_quantile(p)).epsilon(1e-14));
        // Abramowitz and Stegun 26.7.5: t = z + (z³ + z)/(4ν) + …, the next term is below 1e-11.
        const double z = normal_quantile(p);
        CHECK(std::abs(t_quantile(p, 1e6) - z - (z * z * z + z) / 4e6) < 1e-10);
        CHECK(std::abs(t_quantile(p, 1e9) - z - (z * z * z + z) / 4e9) < 2e-8);
    }
}

TEST_CASE("t quantiles are undone by the distribution and come nearer to normal ones") {
    for (const double p : {0.6, 0.9, 0.975, 0.9995}) {
        double wider = infinity;
        for (double degrees = 1.0; degrees < 5000.0; degrees *= 1.7) {
            const double t = t_quantile(p, degrees);
            CHECK(t < wider);
            CHECK(t > normal_quantile(p));
            CHECK(t_cdf(t, degrees) == doctest::Approx(p).epsilon(1e-12));
            CHECK(t_cdf(-t, degrees) == doctest::Approx(1.0 - p).epsilon(1e-9));
            wider = t;
        }
    }
}

TEST_CASE("a binomial adds up, whatever way it is summed") {
    for (const Binomial of : {Binomial{1, 0.3}, Binomial{20, 0.05}, Binomial{150, 0.5},
                              Binomial{400, 0.99}, Binomial{7, 0.0}, Binomial{7, 1.0}}) {
        CAPTURE(of.n);
        CAPTURE(of.p);
        double sum = 0.0;
        for (std::int64_t k = 0; k <= of.n; ++k) {
            sum += binomial_pmf(k, of);
            CHECK(binomial_cdf(k, of) == doctest::Approx(sum).epsilon(1e-11));
        }
        CHECK(sum == doctest::Approx(1.0).epsilon(1e-12));
        CHECK(binomial_cdf(-1, of) == 0.0);
    }
}

TEST_CASE("a binomial quantile is the first count that reaches its share") {
    for (const double p : {0.01, 0.2, 0.77}) {
        for (const double q : {0.001, 0.025, 0.5, 0.975, 0.999}) {
            const Binomial of{90, p};
            const auto k = binomial_quantile(q, of);
            CHECK(binomial_cdf(k, of) >= q);
            CHECK(binomial_cdf(k - 1, of) < q);
        }
    }
}

TEST_CASE("Poisson counts add up and their quantile is the first count that reaches its share") {
    for (const double mean : {0.2, 3.0, 40.0}) {
        double term = std::exp(-mean);
        double sum = 0.0;
        for (int k = 0; k < 120; ++k) {
            sum += term;
            CHECK(poisson_cdf(k, mean) == doctest::Approx(sum).epsilon(1e-11));
            term *= mean / (k + 1);
        }
        for (const double q : {0.001, 0.5, 0.999}) {
            const auto k = poisson_quantile(q, mean);
            CHECK(poisson_cdf(k, mean) >= q);
            CHECK(poisson_cdf(k - 1, mean) < q);
        }
    }
    CHECK(poisson_cdf(0, 0.0) == 1.0);
}

TEST_CASE("drawing without return counts what can be drawn and adds up to one") {
    const Hypergeometric of{.total = 60, .marked = 55, .drawn = 13};
    CHECK(of.fewest() == 8);
    CHECK(of.most() == 13);
    double sum = 0.0;
    double mean = 0.0;
    for (auto k = of.fewest(); k <= of.most(); ++k) {
        sum += hypergeometric_pmf(k, of);
        mean += static_cast<double>(k) * hypergeometric_pmf(k, of);
    }
    CHECK(sum == doctest::Approx(1.0).epsilon(1e-13));
    CHECK(mean == doctest::Approx(13.0 * 55.0 / 60.0).epsilon(1e-13));
    CHECK(hypergeometric_pmf(7, of) == 0.0);
    CHECK(hypergeometric_cdf(12, of) == doctest::Approx(1.0 - hypergeometric_pmf(13, of)));
    CHECK(hypergeometric_cdf(13, of) == 1.0);
}

TEST_CASE("all hypergeometric probabilities at once are those asked for one by one") {
    for (const Hypergeometric of : {Hypergeometric{60, 55, 13}, {9, 0, 4}, {9, 9, 4}, {5, 2, 5}, {1, 1, 1}, {700, 60, 350}, {40'000, 900, 1'200}}) {
        CAPTURE(of.total);
        const auto all = hypergeometric_distribution(of);
        CHECK(all.from == of.fewest());
        REQUIRE(all.probability.size() == static_cast<std::size_t>(of.most() - of.fewest() + 1));
        for (auto k = of.fewest(); k <= of.most(); ++k) {
            const double one = hypergeometric_pmf(k, of);
            if (one > 1e-280) CHECK(all.probability[static_cast<std::size_t>(k - all.from)] / one == doctest::Approx(1.0).epsilon(1e-10));
        }
        // Cut off where it is rare, the rest is the same.
        const auto most = hypergeometric_distribution(of, 1e-12);
        for (std::size_t i = 0; i < most.probability.size(); ++i) {
            CHECK(most.probability[i] >= 1e-12);
            CHECK(most.probability[i] == all.probability[i + static_cast<std::size_t>(most.from - all.from)]);
        }
        if (most.from > all.from) CHECK(all.probability[static_cast<std::size_t>(most.from - all.from) - 1] < 1e-12);
    }
}

TEST_CASE("a beta quantile is undone by its distribution") {
    for (const double a : {0.5, 1.0, 3.5, 120.0}) {
        for (const double b : {0.5, 2.0, 48.0}) {
            for (const double p : {0.001, 0.025, 0.5, 0.975, 0.999}) {
                CHECK(beta_cdf(beta_quantile(p, a, b), a, b) == doctest::Approx(p).epsilon(1e-10));
            }
        }
    }
    CHECK(beta_quantile(0.0, 2.0, 2.0) == 0.0);
    CHECK(beta_quantile(1.0, 2.0, 2.0) == 1.0);
}
