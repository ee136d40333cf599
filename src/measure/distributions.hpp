// Distribution functions and quantiles: normal, t, beta, binomial, Poisson, hypergeometric.
#pragma once

#include <cstdint>
#include <vector>

namespace wm::measure {

// Arguments outside the stated ranges are our mistake: whoever takes figures from a person checks
// them first (measure/demands.hpp).

/// Φ(z), accurate in both tails.
[[nodiscard]] double normal_cdf(double z);
/// The share of a standard normal between two places, accurate also where both lie in one tail.
[[nodiscard]] double normal_between(double from, double to);
/// The z with Φ(z) = p, 0 < p < 1.
[[nodiscard]] double normal_quantile(double p);

/// Student's t with `degrees` > 0 degrees of freedom, infinity included. To 12 digits up to 100,000
/// degrees, to 8 at a thousand million.
[[nodiscard]] double t_cdf(double t, double degrees);
/// The t below which the share p lies, 0 < p < 1.
[[nodiscard]] double t_quantile(double p, double degrees);

/// Beta distribution, a, b > 0, 0 <= x <= 1.
[[nodiscard]] double beta_cdf(double x, double a, double b);
/// The x below which the share p lies, 0 <= p <= 1.
[[nodiscard]] double beta_quantile(double p, double a, double b);

/// n tries, each an event with probability p, 0 <= p <= 1, n >= 0.
struct Binomial {
    std::int64_t n = 0;
    double p = 0.0;
};
[[nodiscard]] double binomial_pmf(std::int64_t k, Binomial of);
/// P(at most k events); 0 below k = 0, 1 from k = n on.
[[nodiscard]] double binomial_cdf(std::int64_t k, Binomial of);
/// Smallest k with P(at most k) >= q, 0 <= q <= 1.
[[nodiscard]] std::int64_t binomial_quantile(double q, Binomial of);

/// Counts with the given mean >= 0.
[[nodiscard]] double poisson_cdf(std::int64_t k, double mean);
/// Smallest k with P(at most k) >= q, 0 <= q < 1.
[[nodiscard]] std::int64_t poisson_quantile(double q, double mean);

/// `drawn` taken without return from `total`, of which `marked` are marked.
struct Hypergeometric {
    std::int64_t total = 0;
    std::int64_t marked = 0;
    std::int64_t drawn = 0;

    [[nodiscard]] std::int64_t fewest() const;  ///< marked ones that can be among those drawn
    [[nodiscard]] std::int64_t most() const;
};
[[nodiscard]] double hypergeometric_pmf(std::int64_t k, const Hypergeometric& of);
/// Probabilities of the counts from `from` on.
struct CountDistribution {
    std::int64_t from = 0;
    std::vector<double> probability{1.0};
};
/// All of them: the likeliest by the formula, the others by the ratio of neighbours. Both ends stop before the first
/// below `negligible`; with 0 they go from of.fewest() to of.most().
[[nodiscard]] CountDistribution hypergeometric_distribution(const Hypergeometric& of, double negligible = 0.0);
[[nodiscard]] double hypergeometric_cdf(std::int64_t k, const Hypergeometric& of);

}  // namespace wm::measure
