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

void add(Tally& tally, const Tally& more) {
    tally.tries += more.tries;
    tally.failed += more.failed;
}

// A job does not spread over the ends of a span but rarely; then its results are looked at one by one.
Tally of_span(const Columns& columns, std::size_t job, Day first, Day last) {
    const auto& codes = columns.codes(job);
    const auto range = columns.results_of(job);
    if (codes.first_day >= first && codes.last_day <= last) return {codes.failed, static_cast<std::int64_t>(range.last - range.first)};
    Tally tally;
    for (auto row = range.first; row < range.last; ++row)
        if (const Day day = columns.results().day[row]; day >= first && day <= last) add(tally, {columns.failed(row) ? 1 : 0, 1});
    return tally;
}

Interval widened_limits(double target, std::int64_t tries, double alpha, double spread) {
    const auto limits = funnel_limits({.target = target, .tries = tries, .alpha = alpha});
    if (!limits) return {0.0, 1.0};
    const double wider = std::sqrt(spread);
    return {std::max(0.0, target - wider * (target - limits->low)), std::min(1.0, target + wider * (limits->high - target))};
}

// What the weeks before have in common. A week that signals is no part of it: one by one the farthest out is left away, as long
// as two remain, for the limits would widen to hold the very thing they are to show.
Tally common_of(std::vector<Tally> weeks) {
    while (true) {
        Tally all;
        for (const auto& week : weeks) add(all, week);
        if (weeks.size() <= 2 || all.failed == 0 || all.failed == all.tries) return all;
        auto farthest = weeks.end();
        double most = 0.0;
        for (auto week = weeks.begin(); week != weeks.end(); ++week) {
            const auto limits = watch_limits(all.share(), week->tries);
            if (!limits || (week->share() <= limits->high && week->share() >= limits->low)) continue;
            const double distance = std::abs(week->share() - all.share()) * std::sqrt(static_cast<double>(week->tries));
            if (distance <= most) continue;
            most = distance;
            farthest = week;
        }
        if (farthest == weeks.end()) return all;
        weeks.erase(farthest);
    }
}

}  // namespace

std::vector<SeasonPoint> season_points(const Columns& columns, const std::string& week, int weeks) {
    const auto monday = units::monday_of(week);
    if (!monday) return {};
    const auto first = units::week_of(units::day_after(*monday, -7 * (weeks - 1)).value_or(*monday)).value_or(week);
    std::map<std::string, Tally> by_week;
    std::map<std::string, std::vector<std::size_t>> behind;
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        const auto& name = columns.names().week.text(columns.codes(job).week);
        const auto range = columns.results_of(job);
        if (name < first || name > week || range.last == range.first) continue;
        add(by_week[name], {columns.codes(job).failed, static_cast<std::int64_t>(range.last - range.first)});
        if (columns.codes(job).failed > 0) behind[name].push_back(job);
    }
    std::vector<Tally> before;
    for (const auto& [name, tally] : by_week)
        if (name != week) before.push_back(tally);
    const auto baseline = common_of(std::move(before));
    std::vector<SeasonPoint> points;
    if (baseline.tries == 0) return points;
    const double centre = baseline.share();
    for (const auto& [name, tally] : by_week) {
        SeasonPoint point{.week = name, .tally = tally, .centre = centre, .limits = {0.0, 1.0}, .signals = false, .jobs = std::move(behind[name])};
        if (const auto limits = watch_limits(centre, tally.tries)) {
            point.limits = *limits;
            point.signals = tally.share() > limits->high || tally.share() < limits->low;
        }
        points.push_back(std::move(point));
    }
    return points;
}

CrewFunnel crew_funnel(const Columns& columns, const std::string& first_day, const std::string& last_day) {
    CrewFunnel funnel;
    std::map<std::string, Tally> crews;
    std::map<std::string, std::vector<std::size_t>> behind;
    Tally all;
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        const auto tally = of_span(columns, job, day_code(first_day), day_code(last_day));
        if (tally.tries == 0) continue;
        const auto& crew = columns.names().crew.text(columns.codes(job).crew);
        add(crews[crew], tally);
        if (tally.failed > 0) behind[crew].push_back(job);
        add(all, tally);
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
        funnel.points.push_back({crew, tally, tally.share() > outer.high || tally.share() < outer.low, std::move(behind[crew])});
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
