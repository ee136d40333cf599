#include "audit/drift.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <optional>
#include <string_view>
#include <tuple>

#include "audit/columns.hpp"
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

/// A reading with what it is compared by as numbers.
struct Reading {
    const GaugeReading* of;
    Day day;
    std::size_t instrument;
    std::size_t series;  ///< one instrument between two calibrations
    double kpa;
};

/// All readings of a span, made once; a look may leave out witnesses.
struct Readings {
    std::vector<Reading> all;                      ///< oldest first
    std::vector<std::vector<std::size_t>> places;  ///< those of one check in one street, lowest pressure first
    std::vector<std::string_view> instruments;
    std::size_t series = 0;
};

struct Compared {
    std::size_t reading;
    double difference;
    double doubt;  ///< of the median it is compared with: one standard error, in deviations
};

constexpr Day no_suspect = 0xFFFFFFFF;

Readings readings_of(const AuditTable& table, const std::string& first_day, const std::string& last_day) {
    Readings readings;
    const Day first = day_code(first_day);
    const Day last = day_code(last_day);
    std::map<std::string_view, std::size_t> instruments;
    std::map<std::pair<std::string_view, std::string_view>, std::size_t> series;
    for (const auto& one : table.gauges) {
        const Day day = day_code(one.day);
        if (day < first || day > last) continue;
        const auto instrument = instruments.try_emplace(one.instrument, instruments.size()).first->second;
        if (instrument == readings.instruments.size()) readings.instruments.push_back(one.instrument);
        readings.all.push_back({&one, day, instrument, series.try_emplace({one.instrument, one.calibrated}, series.size()).first->second, one.kpa});
    }
    readings.series = series.size();
    std::stable_sort(readings.all.begin(), readings.all.end(), [](const Reading& a, const Reading& b) { return a.day < b.day; });
    std::map<std::pair<std::string_view, std::string_view>, std::size_t> places;
    for (std::size_t i = 0; i < readings.all.size(); ++i) {
        const auto& one = *readings.all[i].of;
        const auto place = places.try_emplace({one.check, table.jobs[one.job].street}, places.size()).first->second;
        if (place == readings.places.size()) readings.places.emplace_back();
        readings.places[place].push_back(i);
    }
    for (auto& place : readings.places)
        std::stable_sort(place.begin(), place.end(), [&](std::size_t a, std::size_t b) { return readings.all[a].kpa < readings.all[b].kpa; });
    return readings;
}

/// Values of one place in order, and where those of each instrument stand among them.
class Witnesses {
public:
    explicit Witnesses(std::size_t instruments) : own_(instruments) {}
    /// Values come lowest first.
    void add(std::size_t instrument, double kpa) {
        own_[instrument].push_back(values_.size());
        values_.push_back(kpa);
    }
    void clear() {
        values_.clear();
        for (auto& own : own_) own.clear();
    }
    [[nodiscard]] std::size_t without(std::size_t instrument) const { return values_.size() - own_[instrument].size(); }
    /// Of the values of all others; there must be one.
    [[nodiscard]] double median_without(std::size_t instrument) const {
        const std::size_t count = without(instrument);
        if (count % 2 == 1) return other(own_[instrument], count / 2);
        return (other(own_[instrument], count / 2 - 1) + other(own_[instrument], count / 2)) / 2.0;
    }

private:
    // The n-th value that is not its own: own[i] stands behind own[i] - i values of others.
    [[nodiscard]] double other(const std::vector<std::size_t>& own, std::size_t n) const {
        std::size_t low = 0;
        std::size_t high = own.size();
        while (low < high) {
            const auto middle = (low + high) / 2;
            if (own[middle] - middle <= n) low = middle + 1;
            else high = middle;
        }
        return values_[n + low];
    }

    std::vector<double> values_;
    std::vector<std::vector<std::size_t>> own_;
};

// What the others read at the same place: without the gauge itself, without suspects from their day on.
std::vector<Compared> compared(const Readings& readings, const std::vector<Day>& suspect_from) {
    std::vector<Compared> all;
    Witnesses witnesses{readings.instruments.size()};
    struct Beside {
        std::optional<double> median;
        double doubt = 0.0;
        bool known = false;
    };
    std::vector<Beside> others;
    for (const auto& place : readings.places) {
        witnesses.clear();
        for (const auto at : place)
            if (const auto& one = readings.all[at]; one.day < suspect_from[one.instrument]) witnesses.add(one.instrument, one.kpa);
        others.assign(readings.instruments.size(), {});
        for (const auto at : place) {
            const auto& one = readings.all[at];
            auto& beside = others[one.instrument];
            if (!beside.known) {
                beside.known = true;
                // A median of n normal values is known to 1.2533 deviations over √n.
                if (const auto count = witnesses.without(one.instrument); count >= least_others) {
                    beside.median = witnesses.median_without(one.instrument);
                    beside.doubt = 1.2533 / std::sqrt(static_cast<double>(count));
                }
            }
            if (beside.median) all.push_back({at, one.kpa - *beside.median, beside.doubt});
        }
    }
    std::sort(all.begin(), all.end(), [](const Compared& a, const Compared& b) { return a.reading < b.reading; });
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

/// A drift and the readings it is about; their days and jobs are written out for the last look only.
struct Series {
    GaugeDrift gauge;
    std::vector<double> doubts;
    std::vector<std::size_t> readings;
};

std::vector<Series> drifts_of(const Readings& readings, const std::vector<Compared>& all, std::size_t least) {
    const double deviation = deviation_of(all);
    std::vector<Series> by_series(readings.series);
    for (const auto& one : all) {
        auto& series = by_series[readings.all[one.reading].series];
        series.gauge.differences.push_back(one.difference);
        series.doubts.push_back(one.doubt);
        series.readings.push_back(one.reading);
    }
    std::erase_if(by_series, [&](const Series& series) { return series.doubts.empty() || series.doubts.size() < least; });
    for (auto& series : by_series) {
        series.gauge.instrument = readings.all[series.readings.front()].of->instrument;
        series.gauge.deviation = deviation;
        judge(series.gauge, series.doubts);
    }
    const auto calibrated = [&](const Series& series) -> const std::string& { return readings.all[series.readings.front()].of->calibrated; };
    std::stable_sort(by_series.begin(), by_series.end(), [&](const Series& a, const Series& b) {
        if (a.gauge.p != b.gauge.p) return a.gauge.p < b.gauge.p;
        return std::tie(a.gauge.instrument, calibrated(a)) < std::tie(b.gauge.instrument, calibrated(b));
    });
    return by_series;
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
    const auto readings = readings_of(table, first_day, last_day);
    // A gauge that wanders pulls the others' medians along; from the day it began it is no witness.
    std::vector<Day> suspect_from(readings.instruments.size(), no_suspect);
    while (true) {
        const auto all = compared(readings, suspect_from);
        if (all.empty()) return {};
        auto drifts = drifts_of(readings, all, least);
        const auto next = std::find_if(drifts.begin(), drifts.end(), [&](const Series& series) {
            return series.gauge.p < suspect_below && suspect_from[readings.all[series.readings.front()].instrument] == no_suspect;
        });
        if (next != drifts.end()) {
            const auto& onset = readings.all[next->readings[next->gauge.onset]];
            suspect_from[onset.instrument] = onset.day;
            continue;
        }
        std::vector<GaugeDrift> found;
        for (auto& series : drifts) {
            for (const auto at : series.readings) {
                series.gauge.days.push_back(readings.all[at].of->day);
                series.gauge.jobs.push_back(table.jobs[readings.all[at].of->job].job);
            }
            found.push_back(std::move(series.gauge));
        }
        return found;
    }
}

}  // namespace wm::audit
