// Exact tests.
#include "audit/fisher.hpp"

#include <algorithm>
#include <cstdint>
#include <numeric>

#include "audit/tally_demands.hpp"
#include "measure/distributions.hpp"

namespace wm::audit {
namespace {

using measure::Demands;
using measure::CountDistribution;
using measure::Hypergeometric;

/// Nothing that anybody reads is as rare; see stratified_exact.
constexpr double negligible = 1e-40;
constexpr double clearly_above = 1e-25;

Hypergeometric failures_of_first(const Comparison& comparison) {
    return {.total = comparison.first.tries + comparison.second.tries,
            .marked = comparison.first.failed + comparison.second.failed,
            .drawn = comparison.first.tries};
}

// Four neighbours at once where the processor can: each is computed as it would be alone. The sanitizers start later than the
// choice between the two is made.
#if defined(__x86_64__) && !defined(__SANITIZE_ADDRESS__) && !defined(__SANITIZE_THREAD__)
__attribute__((target_clones("avx2", "default")))
#endif
void add_shared(double* out, const double* from, std::size_t count, double share) {
    for (std::size_t j = 0; j < count; ++j) out[j] += share * from[j];
}

CountDistribution sum_of(const CountDistribution& one, const CountDistribution& other) {
    CountDistribution sum{one.from + other.from, {}};
    sum.probability.assign(one.probability.size() + other.probability.size() - 1, 0.0);
    // The longer one inside: its loop runs over neighbours in memory.
    const bool longer_is_first = one.probability.size() >= other.probability.size();
    const auto& longer = longer_is_first ? one.probability : other.probability;
    const auto& shorter = longer_is_first ? other.probability : one.probability;
    for (std::size_t i = 0; i < shorter.size(); ++i) {
        add_shared(sum.probability.data() + i, longer.data(), longer.size(), shorter[i]);
    }
    return sum;
}

/// Both ends cut off where they are rarer.
void cut_below(CountDistribution& of, double least) {
    auto& p = of.probability;
    while (p.size() > 1 && p.back() < least) p.pop_back();
    const auto first = std::find_if(p.begin(), p.end() - 1, [&](double one) { return one >= least; });
    of.from += first - p.begin();
    p.erase(p.begin(), first);
}

ExactTest test_of(const CountDistribution& distribution, std::int64_t seen) {
    // Equally likely tables differ in their last digits, by the road they were computed on.
    constexpr double alike = 1e-7;
    const auto place = static_cast<std::size_t>(seen - distribution.from);
    const double here = distribution.probability[place];
    double rarer = 0.0;
    double as_rare = 0.0;
    double above = 0.0;
    double below = 0.0;
    for (std::size_t i = 0; i < distribution.probability.size(); ++i) {
        const double p = distribution.probability[i];
        if (p < here * (1.0 - alike)) {
            rarer += p;
        } else if (p <= here * (1.0 + alike)) {
            as_rare += p;
        }
        if (i > place) above += p;
        if (i < place) below += p;
    }
    const auto capped = [](double p) { return std::min(p, 1.0); };
    return {.two_sided = capped(rarer + as_rare),
            .greater = capped(above + here),
            .less = capped(below + here),
            .mid_two_sided = capped(rarer + 0.5 * as_rare),
            .mid_greater = capped(above + 0.5 * here),
            .least_greater = 1.0};
}

void demand_comparison(Demands& demands, const Comparison& comparison) {
    for (const Tally& tally : {comparison.first, comparison.second}) {
        demands.that(tally.failed >= 0 && tally.tries >= tally.failed, "t",
                     "no count may be below 0");
    }
}

bool says_something(const Comparison& comparison) {
    return comparison.first.tries > 0 && comparison.second.tries > 0;
}

}  // namespace

Result<ExactTest> fisher_exact(const Comparison& comparison) {
    Demands demands{"fisher"};
    demand_comparison(demands, comparison);
    demands.that(comparison.first.tries + comparison.second.tries > 0, "t",
                 "at least one count must be above 0");
    if (demands.unmet()) return refused(*demands.unmet());
    const auto of = failures_of_first(comparison);
    ExactTest test = test_of(measure::hypergeometric_distribution(of), comparison.first.failed);
    test.least_greater = std::min(measure::hypergeometric_pmf(of.most(), of), 1.0);
    return test;
}

Result<ExactTest> stratified_exact(std::span<const Comparison> strata) {
    Demands demands{"stratified exact test"};
    demands.that(!strata.empty(), "strata", "at least one stratum is needed");
    for (const Comparison& stratum : strata) demand_comparison(demands, stratum);
    if (demands.unmet()) return refused(*demands.unmet());

    std::int64_t seen = 0;
    double least_greater = 1.0;
    const auto sum_above = [&](double least) {
        CountDistribution sum;
        seen = 0;
        least_greater = 1.0;
        for (const Comparison& stratum : strata) {
            if (!says_something(stratum)) continue;
            const auto of = failures_of_first(stratum);
            sum = sum_of(sum, measure::hypergeometric_distribution(of, least));
            cut_below(sum, least);
            seen += stratum.first.failed;
            least_greater *= measure::hypergeometric_pmf(of.most(), of);
        }
        return sum;
    };
    // Most of a long distribution is rarer than anything that matters. What was seen itself must not be: then all is kept.
    CountDistribution sum = sum_above(negligible);
    const std::int64_t place = seen - sum.from;
    const bool is_common = place >= 0 && place < std::ssize(sum.probability) && sum.probability[static_cast<std::size_t>(place)] > clearly_above;
    if (!is_common) sum = sum_above(0.0);
    ExactTest test = test_of(sum, seen);
    test.least_greater = std::min(least_greater, 1.0);
    return test;
}

Result<std::vector<double>> false_discovery(std::span<const double> p_values) {
    Demands demands{"false-discovery"};
    demands.that(!p_values.empty(), "p", "at least one p is needed");
    for (const double p : p_values) {
        demands.finite("p", p).that(p >= 0.0 && p <= 1.0, "p", "each must lie between 0 and 1");
    }
    if (demands.unmet()) return refused(*demands.unmet());

    std::vector<std::size_t> largest_first(p_values.size());
    std::iota(largest_first.begin(), largest_first.end(), std::size_t{0});
    std::stable_sort(largest_first.begin(), largest_first.end(),
                     [&](std::size_t a, std::size_t b) { return p_values[a] > p_values[b]; });
    const auto m = static_cast<double>(p_values.size());
    std::vector<double> q(p_values.size());
    double lowest = 1.0;
    double rank = m;
    for (const std::size_t i : largest_first) {
        lowest = std::min(lowest, p_values[i] * m / rank);
        q[i] = lowest;
        rank -= 1.0;
    }
    return q;
}

}  // namespace wm::audit
