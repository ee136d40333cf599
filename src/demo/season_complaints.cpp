#include "demo/season_complaints.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>

#include "demo/robot.hpp"
#include "units/calendar.hpp"

namespace wm::demo {

namespace {

constexpr std::array<const char*, 8> anything = {"lukewarm", "noise", "wet", "bill", "runs-outside", "no-hot-water", "too-hot", "cold-by-morning"};
constexpr std::array<const char*, 3> of_a_feed = {"no-water", "no-water", "burst"};

struct Night {
    double air_c = 0.0;
    bool below(double limit) const { return air_c < limit; }
};

/// What a home calls about in one week; empty = nothing.
std::string symptom_of(const Visit& visit, int week, const Night& night, bool planted, bool had_frost, Dice& dice) {
    // All dice fall in each week, so that a plan with patterns and one without call about the same other things.
    const double burst = dice.uniform();
    const double feed = dice.uniform();
    const double frost = dice.uniform();
    const double other = dice.uniform();
    const auto which = dice.next();
    const bool taken_for_frost_free = visit.house.street == "Millpond Hollow" && visit.house.frost_class == "none";
    if (!had_frost) {
        if (planted && taken_for_frost_free && week >= 14 && night.below(-2.0) && burst < 0.10) return "burst";
        if (planted && visit.feed_left_out && night.below(-4.0) && feed < 0.05) return of_a_feed[which % of_a_feed.size()];
        if (night.below(-4.0) && frost < 0.0005) return of_a_feed[which % of_a_feed.size()];
    }
    return other < 0.001 ? anything[which % anything.size()] : "";
}

}  // namespace

namespace {

constexpr double cured_share = 0.75;
struct CameDownTo {
    const char *symptom, *cause, *check;
};
// What such a call came down to here (invented); causes and checks are those of failures.toml.
constexpr std::array<CameDownTo, 10> came_down_to = {{{"no-water", "frost-cold-feed", "frost-cold-feed"},
                                                      {"burst", "frost-cold-feed", "frost-cold-feed"},
                                                      {"lukewarm", "air-lock", "air-purged"},
                                                      {"noise", "air-lock", "air-purged"},
                                                      {"wet", "joint-weeps", "joints-dry"},
                                                      {"bill", "looks-away", "coll-azimuth"},
                                                      {"runs-outside", "discharge-short", "discharge-pipe"},
                                                      {"no-hot-water", "cutout-trips", "thermostat-60"},
                                                      {"too-hot", "scald", "tempering-fitted"},
                                                      {"cold-by-morning", "flows-back", "tank-over-coll"}}};

/// All dice fall for each call, so that one that stays open moves no other.
std::optional<Cure> cure_of(const Call& call, const Visit& visit, const SeasonPlan& plan, Dice& dice) {
    const bool somebody_went = dice.happens(cured_share);
    const auto after_days = 1 + static_cast<int>(dice.next() % 9);
    const auto ms = static_cast<int>(dice.next() % 18'000'000);
    const auto* known = std::find_if(came_down_to.begin(), came_down_to.end(), [&](const CameDownTo& one) { return one.symptom == call.symptom; });
    const auto day = units::day_after(call.day, after_days);
    const auto season_ends = units::day_after(plan.first_monday, 7 * plan.weeks - 1);
    if (!somebody_went || known == came_down_to.end() || !day || !season_ends || *day > *season_ends) return std::nullopt;
    // Where frost was ruled out the feed is asked of nobody.
    if (std::string_view{known->check} == "frost-cold-feed" && visit.house.frost_class == "none") return std::nullopt;
    return Cure{*day, ms, known->cause, known->check};
}

}  // namespace

double night_mean_c(const Visit& visit, int week) {
    const double town = 9.0 - 18.0 * std::pow(week / 26.0, 1.3);
    if (visit.house.street == "Millpond Hollow") return town - 4.0;
    return visit.house.street == "Dovetail Steps" ? town + 6.0 : town;
}

std::vector<Call> calls_of(const SeasonPlan& plan, const std::vector<Visit>& visits) {
    Dice dice{plan.seed * 15485863 + 29};
    // Dice of their own: what becomes of calls moves nothing else of the season.
    Dice cures{plan.seed * 32452843 + 53};
    // One night for the whole town: streets differ by their place alone.
    std::vector<double> scatter;
    for (int week = 0; week <= plan.weeks; ++week) scatter.push_back(dice.normal(0.0, 2.0));
    std::vector<Call> calls;
    for (std::size_t at = 0; at < visits.size(); ++at) {
        const auto& visit = visits[at];
        bool had_frost = false;
        for (int week = visit.week + 1; week <= plan.weeks; ++week) {
            const Night night{night_mean_c(visit, week) + scatter[static_cast<std::size_t>(week)]};
            const auto symptom = symptom_of(visit, week, night, plan.planted, had_frost, dice);
            const auto day = dice.next() % 5;
            const auto ms = static_cast<int>(dice.next() % 18'000'000);
            if (symptom.empty()) continue;
            had_frost = had_frost || symptom == "burst" || symptom == "no-water";
            const auto monday = units::day_after(plan.first_monday, 7 * (week - 1)).value_or(plan.first_monday);
            calls.push_back({.visit = at, .week = week, .day = units::day_after(monday, static_cast<int>(day)).value_or(monday),
                             .ms_after_eight = ms, .symptom = symptom, .air_c = static_cast<int>(std::lround(night.air_c))});
            calls.back().cure = cure_of(calls.back(), visit, plan, cures);
        }
    }
    std::stable_sort(calls.begin(), calls.end(), [](const Call& a, const Call& b) {
        return std::tie(a.day, a.ms_after_eight) < std::tie(b.day, b.ms_after_eight);
    });
    return calls;
}

}  // namespace wm::demo
