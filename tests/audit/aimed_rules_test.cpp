#include "audit/aimed_rules.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>

namespace wm::audit {

namespace {

/// Jobs of one crew, each handed over on its day; `with` says what sets the last one apart.
class Season {
public:
    JobCard& job(const std::string& day, const std::string& crew = "C1") {
        JobCard card;
        card.job = fmt::format("J-{:03}", table_.jobs.size());
        card.crew = crew;
        card.day = day;
        card.visit.handed_over = day;
        table_.jobs.push_back(card);
        table_.traces.push_back({.job = table_.jobs.size() - 1, .entries = 1, .hasty = 0, .alike = {}, .photos = {}});
        result("coll-tilt", false);
        return table_.jobs.back();
    }
    void result(const std::string& check, bool failed) {
        table_.results.push_back({.job = table_.jobs.size() - 1, .check = check, .failed = failed, .inconclusive = false, .corrected = false,
                                  .outcome = "", .day = table_.jobs.back().day});
    }
    AuditTable& table() { return table_; }

    /// Numbers of the jobs that a rule with these words names in the week.
    [[nodiscard]] std::vector<std::string> named(const std::string& words, const std::string& monday = "2026-11-23", const std::string& sunday = "2026-11-29",
                                                 const std::string& seed = "s") const {
        const Columns columns{table_};
        std::vector<std::string> jobs;
        for (const auto& aimed : aimed_visits(columns, {"2026-06-01", monday, sunday, seed}))
            if (aimed.why.find(words) != std::string::npos) jobs.push_back(columns.card(aimed.job).job);
        return jobs;
    }

private:
    AuditTable table_;
};

using Numbers = std::vector<std::string>;

}  // namespace

TEST_CASE("of the loops over 3 m the two newest are aimed at, and one of 3 m is none") {
    Season season;
    for (const auto& [day, metres] : {std::pair{"2026-11-23", 4.0}, std::pair{"2026-11-24", 3.0}, std::pair{"2026-11-25", 5.0}, std::pair{"2026-11-26", 3.2}})
        season.job(day).visit.loop_run_m = metres;
    season.job("2026-11-27");
    CHECK(season.named("3 m of loop") == Numbers{"J-003", "J-002"});
}

TEST_CASE("what is not handed over, or is no work on a roof, is aimed at by no rule") {
    Season season;
    season.job("2026-11-24").visit.pipe = "mixed";
    season.job("2026-11-24").visit.pipe = "mixed";
    season.table().jobs.back().visit.handed_over = "";
    season.job("2026-11-24").visit.pipe = "mixed";
    season.table().jobs.back().kind = "survey";
    season.job("2026-11-16").visit.pipe = "mixed";
    CHECK(season.named("mixed pipe") == Numbers{"J-000"});
}

TEST_CASE("the three coldest are aimed at in the first week that frost is near, and not in the next") {
    Season season;
    for (const double lowest : {-4.0, -9.0, -2.0, -13.0, -1.0}) season.job("2026-09-08").visit.coldest_c = lowest;
    season.job("2026-11-24").visit.air_c = 4.0;
    CHECK(season.named("frost is near") == Numbers{"J-003", "J-001", "J-000"});
    CHECK(season.named("frost is near", "2026-11-30", "2026-12-06").empty());
    season.table().jobs.back().visit.air_c = 6.0;
    CHECK(season.named("frost is near").empty());
}

TEST_CASE("water in the collector is aimed at where it freezes") {
    Season season;
    for (const auto& [system, frost] : {std::pair{"direct", "regular"}, std::pair{"direct", "none"}, std::pair{"indirect", "regular"}, std::pair{"direct", "occasional"}}) {
        auto& job = season.job("2026-11-24");
        job.system = system;
        job.frost_class = frost;
    }
    CHECK(season.named("where it freezes") == Numbers{"J-000", "J-003"});
}

TEST_CASE("swapped ports bring in all the crew's jobs of the week, a failed valve all with its batch") {
    Season season;
    season.job("2026-11-24", "C2").batches = {{"relief valve", "RV-1"}};
    season.result("tank-ports", true);
    season.job("2026-11-24", "C2").batches = {{"relief valve", "RV-2"}};
    season.job("2026-11-25", "C3").batches = {{"relief valve", "RV-1"}};
    season.job("2026-10-06", "C3").batches = {{"relief valve", "RV-1"}};
    season.result("relief-lever", true);
    CHECK(season.named("swapped ports") == Numbers{"J-000", "J-001"});
    CHECK(season.named("same batch") == Numbers{"J-000", "J-002"});
}

TEST_CASE("a proof under sun put off and equal torques are aimed at; a closed one is not") {
    Season season;
    season.job("2026-11-24");
    season.job("2026-11-24");
    season.job("2026-11-24");
    season.table().deferrals = {{.job = 0, .check = "temp-rise", .owner = "", .since = "2026-11-24", .until = "2026-12-24", .closed = ""},
                                {.job = 1, .check = "temp-rise", .owner = "", .since = "2026-11-24", .until = "2026-12-24", .closed = "2026-11-25"}};
    season.table().traces[2].alike = {"anchor-torque"};
    CHECK(season.named("still put off") == Numbers{"J-000"});
    CHECK(season.named("torque readings are the same") == Numbers{"J-002"});
}

TEST_CASE("of each ten a crew hands over one is drawn, counted on from week to week") {
    Season season;
    for (int i = 0; i < 9; ++i) season.job("2026-11-17");
    for (int i = 0; i < 12; ++i) season.job("2026-11-24");
    season.job("2026-11-24", "C2");
    const auto now = season.named("one in ten of each crew");
    CHECK(now.size() == 2);  // the tenth and the twentieth fall into this week
    for (const auto& job : now) CHECK(job >= "J-009");
    CHECK(season.named("one in ten of each crew", "2026-11-16", "2026-11-22").empty());
    bool other = false;
    for (const char* seed : {"a", "b", "c", "d", "e", "f"}) other = other || season.named("one in ten of each crew", "2026-11-23", "2026-11-29", seed) != now;
    CHECK(other);
}

TEST_CASE("rules of a month and a quarter name their jobs in the last week only") {
    Season season;
    for (int i = 0; i < 5; ++i) season.job("2026-11-10").roof = i < 3 ? "metal-sheet" : "slate";
    season.job("2026-10-27");
    CHECK(season.named("two of each crew in a month").empty());
    CHECK(season.named("two of each crew in a month", "2026-11-30", "2026-12-06").size() == 2);
    CHECK(season.named("in a quarter", "2026-11-30", "2026-12-06").empty());
    const auto steel = season.named("in a quarter", "2026-12-28", "2027-01-03");
    REQUIRE(steel.size() == 1);
    CHECK(steel.front() <= "J-002");
}

TEST_CASE("a galvanised house comes back after a year, in one week only") {
    Season season;
    season.job("2025-11-26").visit.pipe = "galvanised";
    CHECK(season.named("a year ago") == Numbers{"J-000"});
    CHECK(season.named("a year ago", "2026-11-30", "2026-12-06").empty());
    CHECK(season.named("a year ago", "2026-11-16", "2026-11-22").empty());
}

TEST_CASE("a rule that is left out says why") {
    CHECK(rules_left_out().size() >= 10);
    for (const auto& rule : rules_left_out()) {
        CAPTURE(rule.rule);
        CHECK_FALSE(rule.failure.empty());
        CHECK_FALSE(rule.because.empty());
    }
}

}  // namespace wm::audit
