#include "desk/week_charts.hpp"

#include <utility>

#include "audit/shares.hpp"

namespace wm::desk {

namespace {
constexpr std::string_view drift_kind = "instrument drift";
}

figures::ParetoChart pareto_of(const WeekView& week) {
    figures::ParetoChart chart;
    for (const auto& row : week.failed) chart.bars.push_back({row.words.empty() ? row.name : row.words, row.failed});
    return chart;
}

figures::ControlChart trend_of(const WeekView& week) {
    constexpr double percent = 100.0;
    figures::ControlChart chart;
    chart.unit = "%";
    for (const auto& point : week.trend)
        chart.points.push_back({point.week.size() > 5 ? point.week.substr(5) : point.week, percent * point.share, percent * point.centre,
                                percent * point.low, percent * point.high, point.signals});
    return chart;
}

namespace {

figures::IntervalRow interval_row(std::string name, const audit::Tally& tally) {
    const auto interval = audit::wilson(tally).value_or(audit::Interval{});
    return {std::move(name), static_cast<int>(tally.failed), static_cast<int>(tally.tries), tally.tries > 0 ? tally.share() : 0.0, interval.low, interval.high, false};
}

}  // namespace

figures::IntervalChart finding_chart(const FindingView& finding) {
    figures::IntervalChart chart;
    if (finding.kind == drift_kind || finding.tries < 1 || finding.others_tries < 1) return chart;
    const bool by_time = finding.subject.empty() && finding.kind.starts_with("recent");
    const std::string own = !finding.subject.empty() ? finding.subject : by_time ? "the last eight weeks" : "not proved";
    const std::string others = by_time ? "before" : finding.subject.empty() ? "proved" : "the others";
    chart.rows.push_back(interval_row(own, {finding.failed, finding.tries}));
    chart.rows.back().marked = true;
    chart.rows.push_back(interval_row(others, {finding.others_failed, finding.others_tries}));
    return chart;
}

const GaugeView* gauge_named(const WeekView& week, const std::string& instrument) {
    for (const auto& gauge : week.gauges)
        if (gauge.instrument == instrument) return &gauge;
    return nullptr;
}

figures::ControlChart drift_of(const GaugeView& gauge) {
    figures::ControlChart chart;
    chart.unit = "kPa";
    // Two of the scatter of single readings either side: what one reading alone may do.
    const double scatter = 2.0 * gauge.scatter_kpa;
    for (const auto& point : gauge.points)
        chart.points.push_back({point.day.size() == 10 ? point.day.substr(5) : point.day, point.difference_kpa, 0.0, -scatter, scatter, point.beyond});
    return chart;
}

figures::FunnelChart funnel_of(const WeekView& week) {
    figures::FunnelChart chart;
    if (!week.funnel) return chart;
    chart.target = week.funnel->target;
    for (const auto& point : week.funnel->points)
        chart.marks.push_back({point.name, static_cast<double>(point.tries), point.share, point.outside});
    for (const auto& at : week.funnel->limits) chart.steps.push_back({at.tries, at.low95, at.high95, at.low998, at.high998});
    return chart;
}

}  // namespace wm::desk
