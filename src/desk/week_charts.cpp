#include "desk/week_charts.hpp"

namespace wm::desk {

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
