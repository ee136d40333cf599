// Distribution functions and quantiles.
#include "measure/distributions.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>

#include "measure/special_functions.hpp"

namespace wm::measure {
namespace {

bool is_inner_share(double p) {
    return p > 0.0 && p < 1.0;
}

/// The place in [low, high] where a growing function first says yes, as near as doubles lie.
template <class Reaches>
double first_place(double low, double high, Reaches reaches) {
    for (;;) {
        const double middle = low + 0.5 * (high - low);
        if (middle <= low || middle >= high) return high;
        (reaches(middle) ? high : low) = middle;
    }
}

/// The smallest whole number in [low, high] where a growing function says yes; high if none does.
template <class Reaches>
std::int64_t first_count(std::int64_t low, std::int64_t high, Reaches reaches) {
    while (low < high) {
        const std::int64_t middle = low + (high - low) / 2;
        if (reaches(middle)) {
            high = middle;
        } else {
            low = middle + 1;
        }
    }
    return low;
}

/// P(T > t) for t >= 0.
double t_upper_tail(double t, double degrees) {
    if (std::isinf(degrees)) return normal_cdf(-t);
    const double square = t * t;
    const Share x{degrees / (degrees + square), square / (degrees + square)};
    return 0.5 * incomplete_beta(0.5 * degrees, 0.5, x).value;
}

}  // namespace

double normal_cdf(double z) {
    return 0.5 * std::erfc(-z / std::numbers::sqrt2);
}

double normal_between(double from, double to) {
    if (from > 0.0) return normal_cdf(-from) - normal_cdf(-to);
    return normal_cdf(to) - normal_cdf(from);
}

double normal_quantile(double p) {
    assert(is_inner_share(p) && "a quantile belongs to a share between 0 and 1");
    if (p > 0.5) return -normal_quantile(1.0 - p);
    // Start within 5e-4 by Abramowitz and Stegun 26.2.23, then correct to the last digits.
    const double w = std::sqrt(-2.0 * std::log(p));
    double z = (2.515517 + w * (0.802853 + w * 0.010328)) /
                   (1.0 + w * (1.432788 + w * (0.189269 + w * 0.001308))) -
               w;
    for (int step = 0; step < 3; ++step) {
        const double density = std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi);
        const double miss = (normal_cdf(z) - p) / density;
        z -= miss / (1.0 + 0.5 * z * miss);
    }
    return z;
}

double t_cdf(double t, double degrees) {
    assert(degrees > 0.0 && "degrees of freedom are positive");
    return t >= 0.0 ? 1.0 - t_upper_tail(t, degrees) : t_upper_tail(-t, degrees);
}

double t_quantile(double p, double degrees) {
    assert(is_inner_share(p) && degrees > 0.0 && "a share between 0 and 1, positive degrees");
    if (p == 0.5) return 0.0;
    if (std::isinf(degrees)) return normal_quantile(p);
    const double tail = std::min(p, 1.0 - p);
    double high = 1.0;
    while (t_upper_tail(high, degrees) > tail) high *= 2.0;
    const double t = first_place(high > 1.0 ? 0.5 * high : 0.0, high, [&](double place) {
        return t_upper_tail(place, degrees) <= tail;
    });
    return p > 0.5 ? t : -t;
}

double beta_cdf(double x, double a, double b) {
    return incomplete_beta(a, b, {x, 1.0 - x}).value;
}

double beta_quantile(double p, double a, double b) {
    assert(p >= 0.0 && p <= 1.0 && "a quantile belongs to a share");
    if (p == 0.0) return 0.0;
    if (p == 1.0) return 1.0;
    return first_place(0.0, 1.0, [&](double x) { return beta_cdf(x, a, b) >= p; });
}

double binomial_pmf(std::int64_t k, Binomial of) {
    if (k < 0 || k > of.n) return 0.0;
    if (of.p <= 0.0) return k == 0 ? 1.0 : 0.0;
    if (of.p >= 1.0) return k == of.n ? 1.0 : 0.0;
    const auto n = static_cast<double>(of.n);
    const auto events = static_cast<double>(k);
    return std::exp(log_choose(n, events) + events * std::log(of.p) +
                    (n - events) * std::log1p(-of.p));
}

double binomial_cdf(std::int64_t k, Binomial of) {
    assert(of.n >= 0 && of.p >= 0.0 && of.p <= 1.0 && "a binomial has n >= 0 and a share p");
    if (k < 0) return 0.0;
    if (k >= of.n) return 1.0;
    return incomplete_beta(static_cast<double>(of.n - k), static_cast<double>(k + 1),
                           {1.0 - of.p, of.p})
        .value;
}

std::int64_t binomial_quantile(double q, Binomial of) {
    return first_count(0, of.n, [&](std::int64_t k) { return binomial_cdf(k, of) >= q; });
}

double poisson_cdf(std::int64_t k, double mean) {
    assert(mean >= 0.0 && "a mean count is not negative");
    if (k < 0) return 0.0;
    return incomplete_gamma(static_cast<double>(k + 1), mean).complement;
}

std::int64_t poisson_quantile(double q, double mean) {
    assert(q >= 0.0 && q < 1.0 && "a quantile belongs to a share below 1");
    std::int64_t high = 1;
    while (poisson_cdf(high, mean) < q) high *= 2;
    return first_count(0, high, [&](std::int64_t k) { return poisson_cdf(k, mean) >= q; });
}

std::int64_t Hypergeometric::fewest() const {
    return std::max<std::int64_t>(0, drawn - (total - marked));
}

std::int64_t Hypergeometric::most() const {
    return std::min(marked, drawn);
}

double hypergeometric_pmf(std::int64_t k, const Hypergeometric& of) {
    if (k < of.fewest() || k > of.most()) return 0.0;
    const auto figure = [](std::int64_t count) { return static_cast<double>(count); };
    return std::exp(log_choose(figure(of.marked), figure(k)) +
                    log_choose(figure(of.total - of.marked), figure(of.drawn - k)) -
                    log_choose(figure(of.total), figure(of.drawn)));
}

CountDistribution hypergeometric_distribution(const Hypergeometric& of, double negligible) {
    // The mode, rounded: from there on the terms fall, so that what is lost in the tails is lost of nothing.
    const double expected = (static_cast<double>(of.drawn) + 1.0) * (static_cast<double>(of.marked) + 1.0) / (static_cast<double>(of.total) + 2.0);
    const auto likeliest = std::clamp(static_cast<std::int64_t>(expected), of.fewest(), of.most());
    // P(k + 1) / P(k).
    const auto ratio = [&](std::int64_t k) {
        return static_cast<double>(of.marked - k) * static_cast<double>(of.drawn - k) /
               (static_cast<double>(k + 1) * static_cast<double>(of.total - of.marked - of.drawn + k + 1));
    };
    const double peak = hypergeometric_pmf(likeliest, of);
    std::vector<double> fewer;
    double p = peak;
    for (auto k = likeliest; k > of.fewest() && (p /= ratio(k - 1)) >= negligible; --k) fewer.push_back(p);
    CountDistribution all{likeliest - static_cast<std::int64_t>(fewer.size()), {fewer.rbegin(), fewer.rend()}};
    all.probability.push_back(peak);
    p = peak;
    for (auto k = likeliest; k < of.most() && (p *= ratio(k)) >= negligible; ++k) all.probability.push_back(p);
    return all;
}

double hypergeometric_cdf(std::int64_t k, const Hypergeometric& of) {
    assert(of.marked <= of.total && of.drawn <= of.total && "no more than there are");
    if (k >= of.most()) return 1.0;
    double sum = 0.0;
    for (std::int64_t events = of.fewest(); events <= k; ++events) {
        sum += hypergeometric_pmf(events, of);
    }
    return std::min(sum, 1.0);
}

}  // namespace wm::measure
