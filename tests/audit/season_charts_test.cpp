#include "audit/season_charts.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <cmath>

#include "units/calendar.hpp"

namespace wm::audit {

namespace {

struct Season {
    AuditTable table;

    void add(const std::string& crew, const std::string& day, int failed, int tries) {
        for (int i = 0; i < tries; ++i) {
            JobCard card;
            card.job = fmt::format("J-{}", table.jobs.size());
            card.crew = crew;
            card.day = day;
            card.week = units::week_of(day).value();
            CheckResult result;
            result.job = table.jobs.size();
            result.check = "ins-ends";
            result.failed = i < failed;
            result.day = day;
            table.jobs.push_back(card);
            table.results.push_back(result);
        }
    }
};

}  // namespace

TEST_CASE("a bad week is held against the weeks before it") {
    Season season;
    season.add("C1", "2027-02-15", 5, 60);
    season.add("C1", "2027-02-22", 4, 60);
    season.add("C1", "2027-03-01", 25, 60);
    const auto points = season_points(season.table, "2027-W09", 26);
    REQUIRE(points.size() == 3);
    CHECK(points[0].week == "2027-W07");
    CHECK(points[2].tally == Tally{25, 60});
    CHECK(points[2].centre == doctest::Approx(9.0 / 120.0));
    CHECK(points[2].signals);
    CHECK_FALSE(points[0].signals);
    CHECK(points[1].jobs == std::vector<std::size_t>{60, 61, 62, 63});
    CHECK(points[2].jobs.size() == 25);
    // Seen from the week before, the bad week is not there yet.
    CHECK(season_points(season.table, "2027-W08", 26).size() == 2);
    // Without a week before there is nothing to hold it against.
    CHECK(season_points(season.table, "2027-W07", 26).empty());
    CHECK(season_points(season.table, "2027-W09", 1).empty());
    CHECK(season_points(season.table, "soon", 26).empty());
}

TEST_CASE("a week that signalled does not widen the limits of those that follow") {
    // 25 of 60 lies beyond 3 deviations of 40 in 240 = 0.167 (± 0.144), the others within; without it 15 in 180.
    Season season;
    season.add("C1", "2027-02-01", 5, 60);
    season.add("C1", "2027-02-08", 4, 60);
    season.add("C1", "2027-02-15", 6, 60);
    season.add("C1", "2027-02-22", 25, 60);
    season.add("C1", "2027-03-01", 13, 60);
    const auto points = season_points(season.table, "2027-W09", 26);
    REQUIRE(points.size() == 5);
    CHECK(points[4].centre == doctest::Approx(15.0 / 180.0));
    CHECK(points[3].signals);
    // 13 of 60 is a signal beside 15 in 180 (limit 0.19), and was none beside 40 in 240 (0.31).
    CHECK(points[4].signals);
}

TEST_CASE("the limits of the funnel are the exact ones, and wider where crews scatter more than chance") {
    // p0 = 0.1, n = 200, 99.8 %: scipy 1.10.1 binom, interpolated (trade source: Spiegelhalter 2005, appendix).
    Season season;
    season.add("C1", "2027-02-15", 20, 200);
    season.add("C2", "2027-02-15", 20, 200);
    season.add("C3", "2027-02-15", 5, 50);
    const auto quiet = crew_funnel(season.table, "2027-01-01", "2027-03-01");
    CHECK(quiet.target == doctest::Approx(0.1));
    CHECK(quiet.spread == 1.0);
    REQUIRE_FALSE(quiet.limits.empty());
    CHECK(quiet.limits.front().tries == 1.0);
    CHECK(quiet.limits.back().tries == 200.0);
    CHECK(std::abs(quiet.limits.back().outer.low - 0.0378515074) < 1e-6);
    CHECK(std::abs(quiet.limits.back().outer.high - 0.1685672639) < 1e-6);
    for (const auto& point : quiet.points) CHECK_FALSE(point.outside);
    REQUIRE(quiet.points.size() == 3);
    CHECK(quiet.points[2].jobs == std::vector<std::size_t>{400, 401, 402, 403, 404});

    season.add("C4", "2027-02-15", 90, 200);
    const auto loud = crew_funnel(season.table, "2027-01-01", "2027-03-01");
    REQUIRE(loud.points.size() == 4);
    CHECK(loud.spread > 1.0);
    CHECK(loud.limits.back().outer.high - loud.target > 0.0685672639);
}

TEST_CASE("one crew alone, or no failure at all, makes no funnel") {
    Season season;
    season.add("C1", "2027-02-15", 2, 20);
    CHECK(crew_funnel(season.table, "2027-01-01", "2027-03-01").points.empty());
    Season fine;
    fine.add("C1", "2027-02-15", 0, 20);
    fine.add("C2", "2027-02-15", 0, 20);
    CHECK(crew_funnel(fine.table, "2027-01-01", "2027-03-01").points.empty());
}

}  // namespace wm::audit
