// Gamma and beta functions, complete and incomplete, on which the distributions rest.
#pragma once

namespace wm::measure {

/// ln Γ(x) for x > 0, to about 15 digits. (The one of the standard library writes a global.)
[[nodiscard]] double log_gamma(double x);

/// ln B(a, b) for a, b > 0; keeps its digits where one of them is large.
[[nodiscard]] double log_beta(double a, double b);

/// ln of the number of ways to take k of n, 0 <= k <= n.
[[nodiscard]] double log_choose(double n, double k);

/// A share and its complement. Both are given, because near 1 the complement cannot be had from
/// the share without losing digits.
struct Share {
    double value = 0.0;
    double complement = 1.0;
};

/// Regularised incomplete beta function I_x(a, b), a, b > 0, with its complement.
/// Source: continued fraction 26.5.8 of Abramowitz and Stegun, evaluated forwards.
[[nodiscard]] Share incomplete_beta(double a, double b, Share x);

/// Regularised lower incomplete gamma function P(a, x), a > 0, x >= 0, with its complement Q.
/// Source: Abramowitz and Stegun 6.5.29 (series) and 6.5.31 (continued fraction).
[[nodiscard]] Share incomplete_gamma(double a, double x);

}  // namespace wm::measure
