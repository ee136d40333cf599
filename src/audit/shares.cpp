// Intervals of shares.
#include "audit/shares.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "audit/tally_demands.hpp"
#include "measure/distributions.hpp"

namespace wm::audit {
namespace {

struct Symbols {
    std::string_view where;
    std::string_view failed;
    std::string_view tries;
};

std::optional<Problem> unfit(const Tally& tally, double confidence, const Symbols& symbols) {
    measure::Demands demands{symbols.where};
    demands.inner_share("conf", confidence);
    demand_tally(demands, tally, symbols.failed, symbols.tries);
    return demands.unmet();
}

Interval wilson_interval(const Tally& tally, double z) {
    const auto n = static_cast<double>(tally.tries);
    const double p = tally.share();
    const double shrink = 1.0 + z * z / n;
    const double centre = (p + z * z / (2.0 * n)) / shrink;
    const double half = z / shrink * std::sqrt(p * (1.0 - p) / n + z * z / (4.0 * n * n));
    // At the ends centre and half differ in their last digits only, and the limit is exact.
    return {tally.failed == 0 ? 0.0 : std::max(0.0, centre - half),
            tally.failed == tally.tries ? 1.0 : std::min(1.0, centre + half)};
}

double two_sided_z(double confidence) {
    return measure::normal_quantile(0.5 + 0.5 * confidence);
}

}  // namespace

Result<Interval> wilson(const Tally& tally, double confidence) {
    if (auto problem = unfit(tally, confidence, {"wilson", "x", "n"})) {
        return refused(*std::move(problem));
    }
    return wilson_interval(tally, two_sided_z(confidence));
}

Result<Interval> clopper_pearson(const Tally& tally, double confidence) {
    if (auto problem = unfit(tally, confidence, {"exact interval", "x", "n"})) {
        return refused(*std::move(problem));
    }
    const double tail = 0.5 - 0.5 * confidence;
    const auto failed = static_cast<double>(tally.failed);
    const auto passed = static_cast<double>(tally.tries - tally.failed);
    return Interval{tally.failed == 0 ? 0.0 : measure::beta_quantile(tail, failed, passed + 1.0),
                    tally.failed == tally.tries
                        ? 1.0
                        : measure::beta_quantile(1.0 - tail, failed + 1.0, passed)};
}

Result<ShareDifference> share_difference(const Tally& first, const Tally& second,
                                         double confidence) {
    for (const auto& [tally, symbols] :
         {std::pair{first, Symbols{"share-difference", "x1", "n1"}},
          std::pair{second, Symbols{"share-difference", "x2", "n2"}}}) {
        if (auto problem = unfit(tally, confidence, symbols)) return refused(*std::move(problem));
    }
    const double z = two_sided_z(confidence);
    const Interval one = wilson_interval(first, z);
    const Interval two = wilson_interval(second, z);
    const double p1 = first.share();
    const double p2 = second.share();
    const double d = p1 - p2;
    return ShareDifference{
        d,
        {d - std::hypot(p1 - one.low, two.high - p2), d + std::hypot(one.high - p1, p2 - two.low)}};
}

}  // namespace wm::audit
