// Gamma and beta functions.
#include "measure/special_functions.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

namespace wm::measure {
namespace {

constexpr double half_log_two_pi = 0.91893853320467274178;
constexpr double stirling_from = 12.0;
constexpr double precision = std::numeric_limits<double>::epsilon();

/// ln Γ(x) less its leading terms (x - 1/2) ln x - x + ln √(2π), for x >= 12.
/// Source: Abramowitz and Stegun 6.1.41.
double stirling_rest(double x) {
    const double z = 1.0 / (x * x);
    return (1.0 / 12 +
            z * (-1.0 / 360 +
                 z * (1.0 / 1260 + z * (-1.0 / 1680 + z * (1.0 / 1188 + z * (-691.0 / 360360 +
                                                                             z * (1.0 / 156))))))) /
           x;
}

/// A continued fraction b0 + a1/(b1 + a2/(b2 + …)) evaluated forwards; `next` moves one step by
/// multiplying numerator and denominator ratios. No partial quotient may vanish, so that a nought
/// is replaced by the smallest figure that still divides.
class ContinuedFraction {
public:
    explicit ContinuedFraction(double b0) : value_{away_from_nought(b0)}, numerator_{value_} {}

    /// True once the step changed nothing that a double can hold.
    bool next(double a, double b) {
        denominator_ = 1.0 / away_from_nought(b + a * denominator_);
        numerator_ = away_from_nought(b + a / numerator_);
        const double factor = numerator_ * denominator_;
        value_ *= factor;
        return std::abs(factor - 1.0) < precision;
    }
    [[nodiscard]] double value() const { return value_; }

private:
    static double away_from_nought(double x) {
        constexpr double tiny = 1e-300;
        return std::abs(x) < tiny ? tiny : x;
    }
    double value_;
    double numerator_;
    double denominator_ = 0.0;
};

/// I_x(a, b) where x is at most about the mean a/(a + b), where the fraction converges fast.
double beta_below_mean(double a, double b, Share x) {
    // The number of steps grows with the root of the larger parameter; this is ample up to 1e12.
    constexpr int step_limit = 4'000'000;
    ContinuedFraction fraction{1.0};
    for (int m = 0; m < step_limit; ++m) {
        const double odd = -(a + m) * (a + b + m) * x.value / ((a + 2 * m) * (a + 2 * m + 1));
        const bool settled = fraction.next(odd, 1.0);
        const double n = m + 1;
        const double even = n * (b - n) * x.value / ((a + 2 * n - 1) * (a + 2 * n));
        if (fraction.next(even, 1.0) && settled) break;
    }
    // ln of the larger one of x and its complement is taken from the smaller, which has the digits.
    const double log_x = x.value < 0.5 ? std::log(x.value) : std::log1p(-x.complement);
    const double log_rest = x.complement < 0.5 ? std::log(x.complement) : std::log1p(-x.value);
    return std::exp(a * log_x + b * log_rest - log_beta(a, b)) / (a * fraction.value());
}

}  // namespace

double log_gamma(double x) {
    assert(x > 0.0 && "log_gamma is asked for positive arguments only");
    double product = 1.0;
    while (x < stirling_from) {
        product *= x;
        x += 1.0;
    }
    return (x - 0.5) * std::log(x) - x + half_log_two_pi + stirling_rest(x) - std::log(product);
}

double log_beta(double a, double b) {
    const double p = std::min(a, b);
    const double q = std::max(a, b);
    if (q < stirling_from) return log_gamma(p) + log_gamma(q) - log_gamma(p + q);
    const double share = p / (p + q);
    if (p < stirling_from) {
        return log_gamma(p) + stirling_rest(q) - stirling_rest(p + q) + p - p * std::log(p + q) +
               (q - 0.5) * std::log1p(-share);
    }
    return half_log_two_pi - 0.5 * std::log(q) + stirling_rest(p) + stirling_rest(q) -
           stirling_rest(p + q) + (p - 0.5) * std::log(share) + q * std::log1p(-share);
}

double log_choose(double n, double k) {
    assert(k >= 0.0 && k <= n && "log_choose is asked for 0 <= k <= n only");
    if (k == 0.0 || k == n) return 0.0;
    return -std::log1p(n) - log_beta(k + 1.0, n - k + 1.0);
}

Share incomplete_beta(double a, double b, Share x) {
    assert(a > 0.0 && b > 0.0 && "the parameters of the beta function are positive");
    if (x.value <= 0.0) return {0.0, 1.0};
    if (x.complement <= 0.0) return {1.0, 0.0};
    if (x.value * (a + b + 2.0) < a + 1.0) {
        const double below = beta_below_mean(a, b, x);
        return {below, 1.0 - below};
    }
    const double above = beta_below_mean(b, a, {x.complement, x.value});
    return {1.0 - above, above};
}

Share incomplete_gamma(double a, double x) {
    assert(a > 0.0 && x >= 0.0 && "the incomplete gamma function wants a > 0 and x >= 0");
    if (x == 0.0) return {0.0, 1.0};
    constexpr int step_limit = 4'000'000;
    const double front = std::exp(a * std::log(x) - x - log_gamma(a));
    if (x < a + 1.0) {
        double term = 1.0 / a;
        double sum = term;
        for (int n = 1; n < step_limit && term > sum * precision; ++n) {
            term *= x / (a + n);
            sum += term;
        }
        return {front * sum, 1.0 - front * sum};
    }
    ContinuedFraction fraction{x + 1.0 - a};
    for (int n = 1; n < step_limit; ++n) {
        if (fraction.next(-n * (n - a), x + 2 * n + 1 - a)) break;
    }
    const double above = front / fraction.value();
    return {1.0 - above, above};
}

}  // namespace wm::measure
