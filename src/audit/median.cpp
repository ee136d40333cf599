#include "audit/median.hpp"

#include <algorithm>
#include <cmath>

namespace wm::audit {

namespace {

constexpr double each_side = 0.025;

// std::lgamma leaves the sign in a variable that all threads share.
double log_gamma(double x) {
    int sign = 0;
    return lgamma_r(x, &sign);
}

// The r of the declaration, from 1 on; 0 where there is none.
std::size_t rank_of(std::size_t n) {
    const auto tries = static_cast<double>(n);
    double below = 0.0;
    std::size_t rank = 0;
    for (std::size_t k = 0; k < n; ++k) {
        const auto hits = static_cast<double>(k);
        // In logarithms: one half to the power of a million is no double.
        below += std::exp(log_gamma(tries + 1.0) - log_gamma(hits + 1.0) - log_gamma(tries - hits + 1.0) - tries * std::log(2.0));
        if (below > each_side) break;
        rank = k + 1;
    }
    return rank;
}

double at_rank(std::vector<std::uint32_t>& figures, std::size_t rank) {
    const auto at = figures.begin() + static_cast<std::ptrdiff_t>(rank);
    std::nth_element(figures.begin(), at, figures.end());
    return static_cast<double>(*at);
}

double middle(std::vector<std::uint32_t>& figures) {
    const std::size_t n = figures.size();
    const double upper = at_rank(figures, n / 2);
    return n % 2 == 1 ? upper : (upper + at_rank(figures, n / 2 - 1)) / 2.0;
}

}  // namespace

std::optional<double> median_of(std::vector<std::uint32_t> figures) {
    if (figures.empty()) return std::nullopt;
    return middle(figures);
}

std::optional<MedianInterval> median_interval(std::vector<std::uint32_t> figures) {
    const std::size_t rank = rank_of(figures.size());
    if (rank == 0) return std::nullopt;
    MedianInterval interval{.median = middle(figures), .low = 0.0, .high = 0.0};
    interval.low = at_rank(figures, rank - 1);
    interval.high = at_rank(figures, figures.size() - rank);
    return interval;
}

}  // namespace wm::audit
