#include "checklist/trend.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "checklist/judge_words.hpp"
#include "units/reading.hpp"

namespace wm::checklist {

namespace {

/// `shown` and `unit` measure the same from the same zero.
std::string rate_in(double value, const units::Unit& unit, const units::Unit& shown) {
    const std::string own = fmt::format("{} {}", units::print_number(value, 2), unit.symbol);
    if (shown == unit) return own;
    return fmt::format("{} {} ({})", units::print_short(value * unit.factor / shown.factor, 2), shown.symbol, own);
}

std::string words_of(const Trend& trend, const units::Unit& unit, const units::Unit& shown) {
    const auto rate = [&](double value, const units::Unit& own) { return rate_in(value, own, shown); };
    const std::string fall = trend.drop >= 0.0 ? "falls" : "rises";
    std::string words = fmt::format("The line through the readings {} {} a minute; as far as this gauge shows, the "
                                    "fall is surely under {}.",
                                    fall, rate(std::abs(trend.drop), unit), rate(std::max(trend.surely_below, 0.0), unit));
    switch (trend.verdict) {
        case measure::LeakVerdict::Pass:
            return words + fmt::format(" {} is allowed.", rate(trend.allowed, unit));
        case measure::LeakVerdict::Leak:
            return words + fmt::format(" That is beyond the {} allowed: it leaks.", rate(trend.allowed, unit));
        case measure::LeakVerdict::Inconclusive:
            return words + fmt::format(" {} is allowed, so these readings cannot tell: read on for longer, or take a "
                                       "finer gauge.",
                                       rate(trend.allowed, unit));
    }
    return words;
}

// What the judged drop has over the plain one, first reading less the smallest: the pressure that came or went with the
// water's temperature.
double correction(const PointTable& points, const Judged& drop, const units::Unit& unit) {
    if (!drop.measured) return 0.0;
    double smallest = points.rows.front().front().in(unit);
    for (const auto& row : points.rows) smallest = std::min(smallest, row.front().in(unit));
    return drop.measured->in(unit) - (points.rows.front().front().in(unit) - smallest);
}

}  // namespace

std::optional<Trend> trend_of(const Check& check, const PointTable& points,
                              const std::optional<InstrumentInUse>& instrument,
                              const Judged& drop, const std::optional<units::Unit>& entered_in) {
    constexpr std::size_t fewest = 3;
    if (!check.series || !check.unit || points.channels.size() != 1 || points.rows.size() < fewest || !instrument)
        return std::nullopt;
    if (std::find(check.works_out.begin(), check.works_out.end(), WorkedOut::HoldTime) == check.works_out.end())
        return std::nullopt;
    const auto allowed = drop.limits.high ? drop.limits.high : check.series->allowed_drop;
    const auto marks = units::read_amount(instrument->card.resolution, *check.unit, "resolution");
    if (!allowed || !check.series->duration || !marks || marks->amount().si <= 0.0) return std::nullopt;

    std::vector<double> minutes;
    std::vector<double> pressures;
    const double taken_off = correction(points, drop, *check.unit);
    const double whole = points.times_s.back() - points.times_s.front();
    if (whole <= 0.0) return std::nullopt;
    for (std::size_t i = 0; i < points.rows.size(); ++i) {
        const double gone = (points.times_s[i] - points.times_s.front()) / whole;
        minutes.push_back(points.times_s[i] / 60.0);
        pressures.push_back(points.rows[i].front().in(*check.unit) - gone * taken_off);
    }
    const auto evidence = measure::leak_evidence({.times = minutes,
                                                  .pressures = pressures,
                                                  .resolution = marks->amount().in(*check.unit),
                                                  .confidence = 0.95});
    if (!evidence) return std::nullopt;
    Trend trend;
    trend.allowed = allowed->in(*check.unit) / (check.series->duration->si / 60.0);
    const auto verdict = measure::leak_verdict(*evidence, trend.allowed);
    if (!verdict) return std::nullopt;
    trend.verdict = *verdict;
    // A needle that stands still on its mark may hide nearly a whole mark: rounding is not independent from one
    // reading to the next, and the line alone would trust it too soon.
    const double hidden = marks->amount().in(*check.unit);
    if (trend.verdict == measure::LeakVerdict::Pass && trend.allowed * (minutes.back() - minutes.front()) < hidden)
        trend.verdict = measure::LeakVerdict::Inconclusive;
    trend.drop = -evidence->fit.slope;
    trend.low = -evidence->slope.high;
    trend.high = -evidence->slope.low;
    trend.surely_below = evidence->highest_drop;
    const bool alike = entered_in && entered_in->dimension == check.unit->dimension && entered_in->scale == check.unit->scale;
    trend.words = words_of(trend, *check.unit, alike ? *entered_in : *check.unit);
    return trend;
}

void weigh_trend(Judged& judged, const Trend& trend) {
    if (judged.outcome == Outcome::Open) return;
    judged.outcome = measure::outcome_of_hold(judged.outcome, trend.verdict);
    if (!judged.why.empty()) judged.why += ' ';
    judged.why += trend.words;
    judged.limits.derivation.emplace_back(
        "line through the readings: least squares with its 95 % band, scatter at least the marks of the gauge / √12; "
        "equation and source: work-out leak-verdict");
}

}  // namespace wm::checklist
