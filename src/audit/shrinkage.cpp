// Empirical Bayes.
#include "audit/shrinkage.hpp"

#include <algorithm>
#include <cmath>

#include "audit/tally_demands.hpp"
#include "measure/distributions.hpp"

namespace wm::audit {
namespace {

struct Moments {
    double tries = 0.0;
    double squares = 0.0;
    double failed = 0.0;
    double largest = 0.0;
};

Moments moments_of(std::span<const Tally> crews) {
    Moments moments;
    for (const Tally& crew : crews) {
        const auto n = static_cast<double>(crew.tries);
        moments.tries += n;
        moments.squares += n * n;
        moments.failed += static_cast<double>(crew.failed);
        moments.largest = std::max(moments.largest, n);
    }
    return moments;
}

double correlation(std::span<const Tally> crews, const Moments& moments, double common) {
    if (common <= 0.0 || common >= 1.0) return 0.0;
    double scatter = 0.0;
    for (const Tally& crew : crews) {
        const double off = crew.share() - common;
        scatter += static_cast<double>(crew.tries) * off * off;
    }
    const double steps = static_cast<double>(crews.size()) - 1.0;
    const double expected = moments.tries - moments.squares / moments.tries - steps;
    return std::clamp((scatter / (common * (1.0 - common)) - steps) / expected, 0.0, 0.999);
}

ShrunkenShare shrunken(const Tally& crew, double common, double weight) {
    if (std::isinf(weight)) return {common, {common, common}};
    const auto failed = static_cast<double>(crew.failed);
    const auto tries = static_cast<double>(crew.tries);
    const double a = failed + weight * common;
    const double b = tries - failed + weight * (1.0 - common);
    return {a / (tries + weight),
            {measure::beta_quantile(0.025, a, b), measure::beta_quantile(0.975, a, b)}};
}

}  // namespace

Result<Shrinkage> shrunken_shares(std::span<const Tally> crews) {
    measure::Demands demands{"shrunken-share"};
    demands.that(crews.size() >= 3, "x", "at least three crews are needed");
    demand_tallies(demands, crews);
    const Moments moments = moments_of(crews);
    demands.that(moments.largest > 1.0, "n", "at least one crew needs more than one visit");
    if (demands.unmet()) return refused(*demands.unmet());

    Shrinkage result;
    result.common_share = moments.failed / moments.tries;
    result.correlation = correlation(crews, moments, result.common_share);
    if (result.correlation > 0.0) result.weight = 1.0 / result.correlation - 1.0;
    for (const Tally& crew : crews) {
        result.crews.push_back(shrunken(crew, result.common_share, result.weight));
    }
    return result;
}

}  // namespace wm::audit
