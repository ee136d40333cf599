// Many drawn seasons: the share of planted patterns that is found and when, and how often a quiet
// season shows anything at all, each with its sampling error. Exit code 1 if a pattern that must
// show in 90 % of seasons shows in fewer, or if quiet seasons show something more often than in 5 %
// and the sampling error does not explain it.
// soak_season [planted seasons] [quiet seasons] [level of one look]
//
// The seasons are drawn, not worked through a desk: demo/drawn_season.hpp says what that leaves out.
#include <fmt/format.h>

#include <cmath>
#include <cstdlib>
#include <functional>
#include <map>
#include <thread>

#include "audit/shares.hpp"
#include "demo/season_trial.hpp"

namespace wm::demo {
namespace {

using testing::patterns;
using testing::Trial;

std::vector<Trial> trials(int seasons, bool planted, double level) {
    std::vector<Trial> all(static_cast<std::size_t>(seasons));
    const auto work = [&](std::size_t from, std::size_t step) {
        for (std::size_t i = from; i < all.size(); i += step) {
            SeasonPlan plan;
            plan.seed = i + 1 + (planted ? 0 : 1'000'000);
            plan.planted = planted;
            all[i] = testing::tried(plan, level);
        }
    };
    std::thread other{work, 1, 2};
    work(0, 2);
    other.join();
    return all;
}

std::string with_error(std::int64_t count, std::int64_t of) {
    const auto interval = audit::wilson({count, of});
    if (!interval) return "no seasons";
    return fmt::format("{:5.1f} % ({} of {}; 95 %: {:.1f} to {:.1f} %)",
                       100.0 * static_cast<double>(count) / static_cast<double>(of), count, of, 100.0 * interval->low,
                       100.0 * interval->high);
}

bool tell_planted(const std::vector<Trial>& all) {
    bool enough = true;
    const auto shown_in = [](const Trial& trial, std::size_t i) {
        return i < patterns.size() ? trial.found[i] : i == patterns.size() ? trial.tops_ageing : trial.traced_to_feed;
    };
    for (std::size_t i = 0; i < patterns.size() + 2; ++i) {
        std::vector<int> weeks;
        for (const auto& trial : all)
            if (const auto week = shown_in(trial, i)) weeks.push_back(*week);
        std::sort(weeks.begin(), weeks.end());
        const auto at = [&](double share) {
            return weeks.empty() ? 0 : weeks[static_cast<std::size_t>(share * static_cast<double>(weeks.size() - 1) + 0.5)];
        };
        fmt::print("  {:32} {}  week {} ({} to {})\n", i < patterns.size() ? patterns[i].name : i == patterns.size() ? "P9 leads the ageing list" : "P6 a call leads to the bare feed",
                   with_error(static_cast<std::int64_t>(weeks.size()), static_cast<std::int64_t>(all.size())), at(0.5),
                   at(0.1), at(0.9));
        const auto interval = audit::wilson({static_cast<std::int64_t>(weeks.size()), static_cast<std::int64_t>(all.size())});
        // Forgotten deferrals of one crew are few; the ageing list tells them, not chance.
        const bool needed = i < patterns.size() && patterns[i].must_show;
        enough = enough && (!needed || !interval || interval->high >= 0.90);
    }
    return enough;
}

std::int64_t tell_others(const std::vector<Trial>& all) {
    std::int64_t seasons = 0;
    std::map<std::string, int> often;
    for (const auto& trial : all) {
        seasons += trial.others.empty() ? 0 : 1;
        for (const auto& other : trial.others) ++often[other];
    }
    fmt::print("  seasons with a finding that nobody planted: {}\n",
               with_error(seasons, static_cast<std::int64_t>(all.size())));
    std::vector<std::pair<int, std::string>> ranked;
    for (const auto& [what, count] : often) ranked.emplace_back(count, what);
    std::sort(ranked.begin(), ranked.end(), std::greater<>{});
    for (std::size_t i = 0; i < ranked.size() && i < 12; ++i) fmt::print("    {:4} {}\n", ranked[i].first, ranked[i].second);
    return seasons;
}

}  // namespace
}  // namespace wm::demo

int main(int count, char** words) {
    const int planted = count > 1 ? std::atoi(words[1]) : 300;
    const int quiet = count > 2 ? std::atoi(words[2]) : 1000;
    const double level = count > 3 ? std::atof(words[3]) : wm::audit::FindingRule{}.level;
    fmt::print("{} planted seasons of 26 weeks, a look each week at level {}:\n", planted, level);
    const auto with = wm::demo::trials(planted, true, level);
    const bool enough = wm::demo::tell_planted(with);
    wm::demo::tell_others(with);
    fmt::print("{} quiet seasons of 26 weeks, a look each week:\n", quiet);
    const auto false_seasons = wm::demo::tell_others(wm::demo::trials(quiet, false, level));
    const auto interval = wm::audit::wilson({false_seasons, std::max(quiet, 1)});
    const bool quiet_enough = interval && interval->low <= 0.05;
    if (!enough) fmt::print("A pattern shows in too few seasons.\n");
    if (!quiet_enough) fmt::print("Quiet seasons show something too often.\n");
    return enough && quiet_enough ? 0 : 1;
}
