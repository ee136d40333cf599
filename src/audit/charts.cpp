// Control charts.
#include "audit/charts.hpp"

#include <algorithm>
#include <cmath>

#include "audit/tally_demands.hpp"
#include "measure/distributions.hpp"

namespace wm::audit {
namespace {

using measure::Demands;

/// Three deviations of a normal, both sides together: the false alarms charts are built for.
constexpr double false_alarms = 0.0026997960632601866;
constexpr double enough_expected = 5.0;

Interval share_limits(double centre, double tries) {
    const double half = 3.0 * std::sqrt(centre * (1.0 - centre) / tries);
    return {std::max(0.0, centre - half), std::min(1.0, centre + half)};
}

Interval exact_share_limits(double centre, std::int64_t tries) {
    const measure::Binomial of{tries, centre};
    const auto n = static_cast<double>(tries);
    return {static_cast<double>(measure::binomial_quantile(0.5 * false_alarms, of)) / n,
            static_cast<double>(measure::binomial_quantile(1.0 - 0.5 * false_alarms, of)) / n};
}

Interval count_limits(double mean) {
    if (mean < enough_expected) {
        return {static_cast<double>(measure::poisson_quantile(0.5 * false_alarms, mean)),
                static_cast<double>(measure::poisson_quantile(1.0 - 0.5 * false_alarms, mean))};
    }
    const double half = 3.0 * std::sqrt(mean);
    return {std::max(0.0, mean - half), mean + half};
}

}  // namespace

Result<Chart> share_chart(std::span<const Tally> baseline) {
    Demands demands{"p-chart"};
    demand_tallies(demands, baseline, "d", "n");
    if (demands.unmet()) return refused(*demands.unmet());
    double failed = 0.0;
    double tries = 0.0;
    for (const Tally& tally : baseline) {
        failed += static_cast<double>(tally.failed);
        tries += static_cast<double>(tally.tries);
    }
    Chart chart{failed / tries, {}};
    for (const Tally& tally : baseline) {
        chart.limits.push_back(share_limits(chart.centre, static_cast<double>(tally.tries)));
    }
    return chart;
}

Result<Interval> watch_limits(double centre, std::int64_t tries) {
    Demands demands{"p-chart"};
    demands.finite("centre", centre)
        .that(centre >= 0.0 && centre <= 1.0, "centre", "it must lie between 0 and 1")
        .that(tries > 0, "n", "at least one try is needed");
    if (demands.unmet()) return refused(*demands.unmet());
    const auto n = static_cast<double>(tries);
    const double rarer = std::min(centre, 1.0 - centre);
    return rarer * n >= enough_expected ? share_limits(centre, n)
                                        : exact_share_limits(centre, tries);
}

Result<Chart> count_chart(std::span<const std::int64_t> counts) {
    Demands demands{"u-chart"};
    demands.that(!counts.empty(), "c", "at least one count is needed");
    double sum = 0.0;
    for (const std::int64_t count : counts) {
        demands.that(count >= 0, "c", "a count must not be below 0");
        sum += static_cast<double>(count);
    }
    if (demands.unmet()) return refused(*demands.unmet());
    const double mean = sum / static_cast<double>(counts.size());
    return Chart{mean, std::vector<Interval>(counts.size(), count_limits(mean))};
}

Result<Chart> rate_chart(std::span<const DefectRate> rates) {
    Demands demands{"u-chart"};
    demands.that(!rates.empty(), "c", "at least one count is needed");
    double defects = 0.0;
    double area = 0.0;
    for (const DefectRate& rate : rates) {
        demands.that(rate.defects >= 0, "c", "a count must not be below 0")
            .positive("a", rate.area);
        defects += static_cast<double>(rate.defects);
        area += rate.area;
    }
    if (demands.unmet()) return refused(*demands.unmet());
    Chart chart{defects / area, {}};
    for (const DefectRate& rate : rates) {
        const double half = 3.0 * std::sqrt(chart.centre / rate.area);
        chart.limits.push_back({std::max(0.0, chart.centre - half), chart.centre + half});
    }
    return chart;
}

Result<WeightedAverage> weighted_average(std::span<const double> values, const DriftTarget& target,
                                         const WeightedAverageRule& rule) {
    Demands demands{"drift-charts"};
    demands.that(!values.empty(), "x", "at least one value is needed")
        .all_finite("x", values)
        .finite("mu0", target.mean)
        .positive("sigma", target.deviation)
        .positive("lam", rule.weight)
        .that(rule.weight <= 1.0, "lam", "it must not be above 1")
        .positive("L", rule.width);
    if (demands.unmet()) return refused(*demands.unmet());

    const double lambda = rule.weight;
    const double settled_half = rule.width * target.deviation * std::sqrt(lambda / (2.0 - lambda));
    WeightedAverage chart;
    chart.settled = {target.mean - settled_half, target.mean + settled_half};
    double z = target.mean;
    double forgotten = 1.0;  // (1 - λ)^2t
    for (const double x : values) {
        z = lambda * x + (1.0 - lambda) * z;
        forgotten *= (1.0 - lambda) * (1.0 - lambda);
        const double half = settled_half * std::sqrt(1.0 - forgotten);
        if (!chart.first_signal && (z < chart.settled.low || z > chart.settled.high)) {
            chart.first_signal = chart.averages.size();
        }
        chart.averages.push_back(z);
        chart.limits.push_back({target.mean - half, target.mean + half});
    }
    return chart;
}

Result<CumulativeSum> cumulative_sum(std::span<const double> values, double target,
                                     const CumulativeSumRule& rule) {
    Demands demands{"drift-charts"};
    demands.that(!values.empty(), "x", "at least one value is needed")
        .all_finite("x", values)
        .finite("mu0", target)
        .not_negative("k", rule.slack)
        .positive("h", rule.decision);
    if (demands.unmet()) return refused(*demands.unmet());

    CumulativeSum chart;
    double up = 0.0;
    double down = 0.0;
    for (const double x : values) {
        up = std::max(0.0, x - (target + rule.slack) + up);
        down = std::max(0.0, (target - rule.slack) - x + down);
        if (!chart.first_signal && (up > rule.decision || down > rule.decision)) {
            chart.first_signal = chart.upward.size();
        }
        chart.upward.push_back(up);
        chart.downward.push_back(down);
    }
    return chart;
}

}  // namespace wm::audit
