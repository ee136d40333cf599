#include "audit/season_charts.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "audit/charts.hpp"
#include "audit/funnel.hpp"
#include "units/calendar.hpp"

namespace wm::audit {

namespace {

constexpr double inner_alpha = 0.05;
constexpr double outer_alpha = 0.002;

void count(Tally& tally, bool failed) {
    ++tally.tries;
    tally.failed += failed ? 1 : 0;
}

Interval widened_limits(double target, std::int64_t tries, double alpha, double spread) {
    const auto limits = funnel_limits({.target = target, .tries = tries, .alpha = alpha});
    if (!limits) return {0.0, 1.0};
    const double wider = std::sqrt(spread);
    return {std::max(0.0, target - wider * (target - limits->low)), std::min(1.0, target + wider * (limits->high - target))};
}

}  // namespace

std::vector<SeasonPoint> season_points(const AuditTable& table, const std::string& week, int weeks) {
    const auto monday = units::monday_of(week);
    if (!monday) return {};
    const auto first = units::week_of(units::day_after(*monday, -7 * (weeks - 1)).value_or(*monday)).value_or(week);
    std::map<std::string, Tally> by_week;
    for (const auto& result : table.results) {
        const auto& name = table.jobs[result.job].week;
        if (name >= first && name <= week) count(by_week[name], result.failed);
    }
    Tally baseline;
    for (const auto& [name, tally] : by_week) {
        if (name == week) continue;
        baseline.failed += tally.failed;
        baseline.tries += tally.tries;
    }
    std::vector<SeasonPoint> points;
    if (baseline.tries == 0) return points;
    const double centre = baseline.share();
    for (const auto& [name, tally] : by_week) {
        SeasonPoint point{.week = name, .tally = tally, .centre = centre, .limits = {0.0, 1.0}, .signals = false};
        if (const auto limits = watch_limits(centre, tally.tries)) {
            point.limits = *limits;
            point.signals = tally.share() > limits->high || tally.share() < limits->low;
        }
        points.push_back(std::move(point));
    }
    return points;
}

CrewFunnel crew_funnel(const AuditTable& table, const std::string& first_day, const std::string& last_day) {
    CrewFunnel funnel;
    std::map<std::string, Tally> crews;
    Tally all;
    for (const auto& result : table.results) {
        if (result.day < first_day || result.day > last_day) continue;
        count(crews[table.jobs[result.job].crew], result.failed);
        count(all, result.failed);
    }
    if (crews.size() < 2 || all.failed == 0 || all.failed == all.tries) return funnel;
    funnel.target = all.share();
    std::vector<Tally> tallies;
    std::int64_t most = 1;
    for (const auto& [crew, tally] : crews) {
        tallies.push_back(tally);
        most = std::max(most, tally.tries);
    }
    if (const auto spread = overdispersion(tallies, funnel.target)) funnel.spread = std::max(1.0, *spread);
    for (const auto& [crew, tally] : crews) {
        const auto outer = widened_limits(funnel.target, tally.tries, outer_alpha, funnel.spread);
        funnel.points.push_back({crew, tally, tally.share() > outer.high || tally.share() < outer.low});
    }
    constexpr int steps = 40;
    std::int64_t last = 0;
    for (int i = 0; i <= steps; ++i) {
        // Closer together where the funnel is steep.
        const double part = static_cast<double>(i) / steps;
        const auto tries = 1 + static_cast<std::int64_t>(std::llround(part * part * static_cast<double>(most - 1)));
        if (tries == last) continue;
        last = tries;
        funnel.limits.push_back({static_cast<double>(tries), widened_limits(funnel.target, tries, inner_alpha, funnel.spread),
                                 widened_limits(funnel.target, tries, outer_alpha, funnel.spread)});
    }
    return funnel;
}

}  // namespace wm::audit
