// Product-limit curve.
#include "audit/survival.hpp"

#include <algorithm>
#include <cmath>

#include "measure/demands.hpp"

namespace wm::audit {

Result<SurvivalCurve> product_limit(std::span<const OpenTime> times) {
    measure::Demands demands{"time-to-correction"};
    demands.that(!times.empty(), "t", "at least one time is needed");
    for (const OpenTime& each : times) demands.not_negative("t", each.time);
    if (demands.unmet()) return refused(*demands.unmet());

    std::vector<OpenTime> sorted{times.begin(), times.end()};
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const OpenTime& a, const OpenTime& b) { return a.time < b.time; });
    SurvivalCurve curve;
    double open_share = 1.0;
    double greenwood = 0.0;
    for (auto from = sorted.begin(); from != sorted.end();) {
        const auto to = std::find_if(from, sorted.end(),
                                     [&](const OpenTime& each) { return each.time > from->time; });
        const auto closed = static_cast<double>(std::count_if(
            from, to, [](const OpenTime& each) { return each.ending == Ending::Closed; }));
        const auto at_risk = static_cast<double>(sorted.end() - from);
        if (closed > 0.0) {
            open_share *= 1.0 - closed / at_risk;
            if (closed < at_risk) greenwood += closed / (at_risk * (at_risk - closed));
            curve.steps.push_back({from->time, open_share, open_share * std::sqrt(greenwood)});
            // A product of fractions misses one half by its last digits.
            if (!curve.median && open_share <= 0.5 * (1.0 + 1e-12)) curve.median = from->time;
        }
        from = to;
    }
    return curve;
}

}  // namespace wm::audit
