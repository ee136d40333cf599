#include "audit/drift.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

#include "measure/demands.hpp"

namespace wm::audit {

namespace {

constexpr double slack = 0.5;
constexpr double decision = 5.0;
constexpr std::size_t least_others = 12;
constexpr double suspect_below = 1e-3;
constexpr double least_deviation_kpa = 2.0;  // no gauge of the trade is read finer (common practice, no source)

double median_of(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    if (values.size() % 2 == 1) return *middle;
    return (*middle + *std::max_element(values.begin(), middle)) / 2.0;
}

struct Compared {
    std::string instrument, day, job, calibrated;
    double difference;
    double doubt;  ///< of the median it is compared with: one standard error, in deviations
};

/// Instrument to the day from which it is no witness against the others.
using Suspects = std::map<std::string, std::string, std::less<>>;

// What the others read at the same place: without the gauge itself, without suspects.
std::vector<Compared> compared(const AuditTable& table, const std::string& first_day, const std::string& last_day,
                               const Suspects& suspects) {
    const auto bears_witness = [&](const GaugeReading& reading) {
        const auto suspect = suspects.find(reading.instrument);
        return suspect == suspects.end() || reading.day < suspect->second;
    };
    std::map<std::pair<std::string_view, std::string_view>, std::vector<const GaugeReading*>> places;
    for (const auto& reading : table.gauges)
        if (reading.day >= first_day && reading.day <= last_day)
            places[{reading.check, table.jobs[reading.job].street}].push_back(&reading);
    std::vector<Compared> all;
    for (const auto& [place, readings] : places) {
        std::map<std::string_view, std::vector<double>> others;
        for (const auto* reading : readings) others.try_emplace(reading->instrument);
        for (auto& [instrument, values] : others)
            for (const auto* reading : readings)
                if (reading->instrument != instrument && bears_witness(*reading)) values.push_back(reading->kpa);
        for (const auto* reading : readings) {
            const auto& values = others[reading->instrument];
            if (values.size() < least_others) continue;
            // A median of n normal values is known to 1.2533 deviations over √n.
            all.push_back({reading->instrument, reading->day, table.jobs[reading->job].job, reading->calibrated,
                           reading->kpa - median_of(values), 1.2533 / std::sqrt(static_cast<double>(values.size()))});
        }
    }
    std::stable_sort(all.begin(), all.end(), [](const Compared& a, const Compared& b) { return a.day < b.day; });
    return all;
}

// Half of normal differences lie within 0.6745 deviations.
double deviation_of(const std::vector<Compared>& all) {
    std::vector<double> sizes;
    for (const auto& one : all) sizes.push_back(std::abs(one.difference));
    return std::max(median_of(std::move(sizes)) / 0.6744897501960817, least_deviation_kpa);
}

// The doubt of the median is the same in all readings of a street and does not even out: each
// reading is held against the end of it that speaks for the gauge.
void judge(GaugeDrift& gauge, const std::vector<double>& doubts) {
    std::vector<double> above;
    std::vector<double> below;
    for (std::size_t i = 0; i < doubts.size(); ++i) {
        // One slip of the pen must not be a drift: beyond three deviations a reading counts as three.
        const double standard = std::clamp(gauge.differences[i] / gauge.deviation, -3.0, 3.0);
        above.push_back(standard - doubts[i]);
        below.push_back(standard + doubts[i]);
    }
    const CumulativeSumRule rule{.slack = slack, .decision = decision};
    const auto rising = cumulative_sum(above, 0.0, rule);
    const auto falling = cumulative_sum(below, 0.0, rule);
    if (!rising || !falling) return;
    gauge.sums.upward = rising->upward;
    gauge.sums.downward = falling->downward;
    for (std::size_t i = 0; i < above.size() && !gauge.sums.first_signal; ++i)
        if (gauge.sums.upward[i] > decision || gauge.sums.downward[i] > decision) gauge.sums.first_signal = i;
    const auto up = std::max_element(gauge.sums.upward.begin(), gauge.sums.upward.end());
    const auto down = std::max_element(gauge.sums.downward.begin(), gauge.sums.downward.end());
    gauge.upward = *up >= *down;
    gauge.highest = std::max(*up, *down);
    const auto& side = gauge.upward ? gauge.sums.upward : gauge.sums.downward;
    auto at = static_cast<std::size_t>(gauge.upward ? up - side.begin() : down - side.begin());
    gauge.peak = at;
    while (at > 0 && side[at - 1] > 0.0) --at;
    gauge.onset = at;
    if (gauge.highest > 0.0)
        gauge.p = chance_of_sum(slack, gauge.highest, static_cast<double>(above.size())).value_or(1.0);
}

std::vector<GaugeDrift> drifts_of(const std::vector<Compared>& all, std::size_t least) {
    struct Series {
        GaugeDrift gauge;
        std::vector<double> doubts;
    };
    const double deviation = deviation_of(all);
    std::map<std::pair<std::string, std::string>, Series> gauges;
    for (const auto& one : all) {
        auto& [gauge, doubts] = gauges[{one.instrument, one.calibrated}];
        gauge.instrument = one.instrument;
        gauge.deviation = deviation;
        gauge.days.push_back(one.day);
        gauge.jobs.push_back(one.job);
        gauge.differences.push_back(one.difference);
        doubts.push_back(one.doubt);
    }
    std::vector<GaugeDrift> drifts;
    for (auto& [key, series] : gauges) {
        if (series.doubts.size() < least) continue;
        judge(series.gauge, series.doubts);
        drifts.push_back(std::move(series.gauge));
    }
    std::stable_sort(drifts.begin(), drifts.end(), [](const GaugeDrift& a, const GaugeDrift& b) { return a.p < b.p; });
    return drifts;
}

}  // namespace

Result<double> quiet_run_length(double k, double h) {
    measure::Demands demands{"drift-charts"};
    demands.positive("k", k).positive("h", h);
    if (demands.unmet()) return refused(*demands.unmet());
    const double b = h + 1.166;
    return (std::exp(2.0 * k * b) - 2.0 * k * b - 1.0) / (2.0 * k * k);
}

Result<double> chance_of_sum(double k, double h, double readings) {
    const auto length = quiet_run_length(k, h);
    if (!length) return tl::unexpected(length.error());
    measure::Demands demands{"drift-charts"};
    demands.not_negative("n", readings);
    if (demands.unmet()) return refused(*demands.unmet());
    return -std::expm1(-2.0 * readings / *length);
}

std::vector<GaugeDrift> gauge_drifts(const AuditTable& table, const std::string& first_day,
                                     const std::string& last_day, std::size_t least) {
    // A gauge that wanders pulls the others' medians along; from the day it began it is no witness.
    Suspects suspects;
    while (true) {
        const auto all = compared(table, first_day, last_day, suspects);
        if (all.empty()) return {};
        auto drifts = drifts_of(all, least);
        const auto next = std::find_if(drifts.begin(), drifts.end(), [&](const GaugeDrift& drift) {
            return drift.p < suspect_below && !suspects.contains(drift.instrument);
        });
        if (next == drifts.end()) return drifts;
        suspects.emplace(next->instrument, next->days[next->onset]);
    }
}

}  // namespace wm::audit
