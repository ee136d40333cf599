#include "audit/discoveries.hpp"

#include <algorithm>
#include <functional>

#include "audit/tally_demands.hpp"

namespace wm::audit {
namespace {

using measure::Demands;

// How many hypotheses of a kind can matter at its level, largest least_p first out (Tarone).
double divisor_of(std::vector<double> least, double level) {
    std::sort(least.begin(), least.end());
    for (std::size_t k = 1; k <= least.size(); ++k) {
        const auto reachable = std::upper_bound(least.begin(), least.end(), level / static_cast<double>(k));
        if (reachable - least.begin() <= static_cast<std::ptrdiff_t>(k)) return static_cast<double>(k);
    }
    return 1.0;
}

}  // namespace

Result<std::vector<double>> discoveries(std::span<const Hypothesis> hypotheses, std::span<const double> shares,
                                        double level) {
    Demands demands{"discoveries"};
    demands.that(!hypotheses.empty(), "p", "at least one p is needed");
    demands.that(level > 0.0 && level < 1.0, "level", "it must lie between 0 and 1");
    double all_shares = 0.0;
    for (const double share : shares) {
        demands.that(share > 0.0, "share", "each must be above 0");
        all_shares += share;
    }
    demands.that(all_shares <= 1.0 + 1e-9, "share", "they may add up to 1 at most");
    for (const auto& one : hypotheses) {
        demands.finite("p", one.p).that(one.p >= 0.0 && one.p <= 1.0, "p", "each must lie between 0 and 1");
        demands.that(one.kind < shares.size(), "kind", "each needs a share");
    }
    if (demands.unmet()) return refused(*demands.unmet());

    std::vector<std::vector<double>> least(shares.size());
    for (const auto& one : hypotheses) least[one.kind].push_back(one.least_p);
    std::vector<double> bound(shares.size(), 0.0);
    std::vector<double> left(shares.size(), 0.0);
    for (std::size_t kind = 0; kind < shares.size(); ++kind) {
        const double own_level = shares[kind] * level;
        bound[kind] = own_level / divisor_of(least[kind], own_level);
        left[kind] = static_cast<double>(
            std::count_if(least[kind].begin(), least[kind].end(), [&](double p) { return p <= bound[kind]; }));
    }

    struct Weighed {
        double p;
        std::size_t at;
    };
    std::vector<Weighed> weighed;
    std::vector<double> q(hypotheses.size(), 1.0);
    for (std::size_t i = 0; i < hypotheses.size(); ++i) {
        const auto& one = hypotheses[i];
        if (one.least_p > bound[one.kind]) continue;
        weighed.push_back({one.p * left[one.kind] / shares[one.kind], i});
    }
    std::stable_sort(weighed.begin(), weighed.end(), [](const Weighed& a, const Weighed& b) { return a.p > b.p; });
    double lowest = 1.0;
    auto rank = static_cast<double>(weighed.size());
    for (const auto& one : weighed) {
        lowest = std::min(lowest, one.p / rank);
        q[one.at] = lowest;
        rank -= 1.0;
    }
    return q;
}

}  // namespace wm::audit
