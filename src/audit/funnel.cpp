// Funnel limits.
#include "audit/funnel.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "audit/tally_demands.hpp"
#include "measure/distributions.hpp"

namespace wm::audit {
namespace {

double interpolated_limit(double q, const measure::Binomial& of) {
    const std::int64_t r = measure::binomial_quantile(q, of);
    const double reached = measure::binomial_cdf(r, of);
    const double before = measure::binomial_cdf(r - 1, of);
    // A count too improbable for a double has no inside to interpolate in.
    const double back = reached > before ? (reached - q) / (reached - before) : 0.0;
    const double limit = (static_cast<double>(r) - back) / static_cast<double>(of.n);
    return std::clamp(limit, 0.0, 1.0);
}

}  // namespace

Result<Interval> funnel_limits(const FunnelQuestion& question) {
    measure::Demands demands{"funnel-limits"};
    demands.inner_share("p0", question.target)
        .that(question.tries > 0, "n", "at least one try is needed")
        .inner_share("alpha", question.alpha);
    if (demands.unmet()) return refused(*demands.unmet());
    const measure::Binomial of{question.tries, question.target};
    return Interval{interpolated_limit(0.5 * question.alpha, of),
                    interpolated_limit(1.0 - 0.5 * question.alpha, of)};
}

Result<double> overdispersion(std::span<const Tally> crews, double target) {
    measure::Demands demands{"funnel-limits"};
    demands.inner_share("p0", target).that(crews.size() >= 2, "n", "at least two crews are needed");
    demand_tallies(demands, crews);
    if (demands.unmet()) return refused(*demands.unmet());

    std::vector<double> distances;
    for (const Tally& crew : crews) {
        const double deviation =
            std::sqrt(target * (1.0 - target) / static_cast<double>(crew.tries));
        distances.push_back((crew.share() - target) / deviation);
    }
    std::sort(distances.begin(), distances.end());
    const std::size_t drawn_in = distances.size() / 10;
    const double lowest = distances[drawn_in];
    const double highest = distances[distances.size() - 1 - drawn_in];
    double sum = 0.0;
    for (const double distance : distances) {
        const double kept = std::clamp(distance, lowest, highest);
        sum += kept * kept;
    }
    return sum / static_cast<double>(distances.size());
}

}  // namespace wm::audit
