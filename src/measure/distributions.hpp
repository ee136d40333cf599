// Distribution functions and quantiles: normal, t, beta, binomial, Poisson, hypergeometric.
#pragma once

namespace wm::measure {

/// Φ(z), accurate in both tails.
[[nodiscard]] double normal_cdf(double z);

/// The share of a standard normal between two places, accurate also where both lie in one tail.
[[nodiscard]] double normal_between(double from, double to);

}  // namespace wm::measure
