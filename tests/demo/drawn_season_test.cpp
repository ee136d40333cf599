// A small version of `scripts/soak season`: the same trial over a few seasons, a look every four weeks.
#include "demo/drawn_season.hpp"

#include <set>

#include "demo/season.hpp"
#include "demo/season_trial.hpp"
#include "demo/testing.hpp"
#include "desk/complaints.hpp"
#include "desk/week.hpp"

namespace wm::demo {

TEST_CASE("the drawn season has the checks and about as many results as the one that goes through a desk") {
    SeasonPlan plan;
    plan.weeks = 2;
    testing::DemoDesk own{"drawn"};
    const auto done = make_season(own.desk(), own.clock, plan, [](int) {});
    REQUIRE_MESSAGE(done, (done ? "" : told(done.error())));
    const auto counted = own.desk().audit_columns();
    REQUIRE(counted);
    const auto through_desk = audit::table_of(**counted);
    const auto drawn = drawn_season(plan);
    REQUIRE(drawn.jobs.size() == through_desk.jobs.size());
    std::map<std::string, int> ours, theirs;
    for (const auto& result : drawn.results) ++ours[result.check];
    for (const auto& result : through_desk.results) ++theirs[result.check];
    for (const auto& [check, count] : theirs) {
        CAPTURE(check);
        CHECK(ours.contains(check));
    }
    const double ratio = static_cast<double>(drawn.results.size()) / static_cast<double>(through_desk.results.size());
    CHECK(std::abs(ratio - 1.0) < 0.05);
    CHECK(drawn.traces.size() == drawn.jobs.size());
    CHECK(through_desk.traces.size() == through_desk.jobs.size());
    CHECK(through_desk.gauges.size() >= drawn.gauges.size() * 9 / 10);
    CHECK(through_desk.deferrals.size() >= drawn.deferrals.size());
}

TEST_CASE("in the pinned season each planted pattern is found by its week, and nothing else is said") {
    // Weeks of the truth list of the demo (invented parameters, no source): the latest week in which each is expected. The gauge
    // shows as a trend by week 17; a call at a home taken for free of frost counts from week 14 on and leads back at once.
    constexpr std::uint64_t pinned = 319;
    const auto trial = testing::tried({.seed = pinned}, audit::FindingRule{}.level);
    const auto by = [&](const char* name, int week) {
        CAPTURE(name);
        const auto at = std::find_if(testing::patterns.begin(), testing::patterns.end(), [&](const testing::Pattern& one) { return std::string_view{one.name}.starts_with(name); });
        REQUIRE(at != testing::patterns.end());
        const auto& found = trial.found[static_cast<std::size_t>(at - testing::patterns.begin())];
        REQUIRE(found);
        CHECK(*found <= week);
    };
    by("P1", 16);
    by("P2", 17);
    by("P3", 17);
    by("P4", 21);
    by("P5 wrong", 6);
    by("P5 burst", 15);
    by("P7", 23);
    by("P8", 13);
    // One call is no finding; that it leads to the check that nobody read is listed with it.
    REQUIRE(trial.traced_to_feed);
    CHECK(*trial.traced_to_feed <= 24);
    // The list of what was put off by crew, before chance is excluded.
    REQUIRE(trial.tops_ageing);
    CHECK(*trial.tops_ageing <= 9);
    CHECK(trial.others.empty());
}

TEST_CASE("most planted patterns show in most seasons, and no decoy is blamed") {
    // Eight seasons of the soak run's three hundred, where each of these shows in 90 % or more. Seven
    // of eight or more are expected with 81 %; five or more with more than 99.9 %.
    std::array<int, testing::patterns.size()> found{};
    std::vector<std::string> others;
    for (std::uint64_t seed = 1; seed <= 8; ++seed) {
        const auto trial = testing::tried({.seed = seed}, audit::FindingRule{}.level, 4);
        for (std::size_t i = 0; i < found.size(); ++i) found[i] += trial.found[i] ? 1 : 0;
        others.insert(others.end(), trial.others.begin(), trial.others.end());
    }
    for (std::size_t i = 0; i < found.size(); ++i) {
        CAPTURE(testing::patterns[i].name);
        if (!testing::patterns[i].must_show) continue;
        CHECK(found[i] >= 5);
    }
    // Slate, the busy crew, and the one home with seven failures (design of the demo, no source).
    for (const auto& other : others) {
        CAPTURE(other);
        for (const char* decoy : {"covering-back", "Tindo Quellaby", "hook-gap", "coll-cross-rise", "tank-level", "ins-wall"})
            CHECK(other.find(decoy) == std::string::npos);
    }
}

TEST_CASE("the drawn season holds the catalogue of failures as far as its checks go") {
    testing::DemoDesk own{"links"};
    const auto list = desk::failure_list(own.desk());
    REQUIRE(list);
    std::set<std::string> ours, theirs;
    std::set<std::string> drawn;
    for (const auto& [check, card] : drawn_cards()) drawn.insert(check);
    const auto told = [](const audit::SymptomLink& link) { return link.symptom + " " + link.check + (link.in_frost ? " frost" : ""); };
    for (const auto& link : drawn_links()) ours.insert(told(link));
    for (const auto& link : desk::links_of(*list))
        if (drawn.contains(link.check)) theirs.insert(told(link));
    CHECK(ours == theirs);
}

TEST_CASE("quiet seasons seldom show anything") {
    // 5 % of 20 seasons is one; four or more come with 1.6 % at exactly 5 %, so the seeds are fixed.
    int shown = 0;
    for (std::uint64_t seed = 1'000'001; seed <= 1'000'020; ++seed)
        shown += testing::tried({.seed = seed, .planted = false}, audit::FindingRule{}.level, 4).others.empty() ? 0 : 1;
    CHECK(shown <= 3);
}

}  // namespace wm::demo
