#include "audit/health.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

namespace wm::audit {

namespace {

const HealthRule rule{.first_day = "2027-01-01", .last_day = "2027-06-30"};

struct Planted {
    AuditTable table;

    std::size_t job(const std::string& after = "") {
        JobCard card;
        card.job = fmt::format("J-{:04}", table.jobs.size());
        card.day = "2027-03-04";
        card.after = after;
        table.jobs.push_back(card);
        return table.jobs.size() - 1;
    }
    void result(std::size_t job, const std::string& check, bool failed, const std::string& day = "2027-03-04") {
        CheckResult one;
        one.job = job;
        one.check = check;
        one.failed = failed;
        one.day = day;
        table.results.push_back(one);
    }
    void many(const std::string& check, int failed, int tries) {
        for (int i = 0; i < tries; ++i) result(job(), check, i < failed);
    }
    [[nodiscard]] std::vector<std::string> kinds(const std::string& check) const {
        std::vector<std::string> found;
        for (const auto& row : health_of(table, {{"tank-level", {"Store level", 'H', true}}}, rule))
            if (row.check == check) found.push_back(row.kind);
        return found;
    }
};

using Kinds = std::vector<std::string>;

}  // namespace

TEST_CASE("a check that never fails is told after many tries only, and is kept if it guards people") {
    Planted planted;
    planted.many("coll-tilt", 0, 149);
    planted.many("tank-level", 0, 150);
    planted.many("ins-ends", 1, 400);
    CHECK(planted.kinds("coll-tilt").empty());
    CHECK(planted.kinds("tank-level") == Kinds{"never fails"});
    CHECK(planted.kinds("ins-ends").empty());
    const auto rows = health_of(planted.table, {{"tank-level", {"Store level", 'H', true}}}, rule);
    REQUIRE(rows.size() == 1);
    CHECK(rows[0].proposal.starts_with("Keep it"));
    CHECK(rows[0].sentence.find("0 of 150") != std::string::npos);
}

TEST_CASE("a check that mostly fails is told once the interval lies above one half") {
    Planted planted;
    planted.many("coll-tilt", 7, 7);    // too few tries
    planted.many("tank-level", 7, 8);   // Wilson, statsmodels 0.13.5: 0.529 to 0.978
    planted.many("ins-ends", 12, 20);   // 0.387 to 0.781
    CHECK(planted.kinds("coll-tilt").empty());
    CHECK(planted.kinds("tank-level") == Kinds{"mostly fails"});
    CHECK(planted.kinds("ins-ends").empty());
}

TEST_CASE("two visits that disagree as by chance are told, with the houses") {
    Planted planted;
    const auto pair = [&](const std::string& check, bool first, bool second) {
        const auto house = planted.job();
        planted.result(house, check, first);
        planted.result(planted.job(planted.table.jobs[house].job), check, second);
    };
    for (int i = 0; i < 20; ++i) pair("ins-ends", i % 2 == 0, i % 4 < 2);  // kappa 0
    for (int i = 0; i < 20; ++i) pair("coll-tilt", i % 2 == 0, i % 2 == 0);
    for (int i = 0; i < 7; ++i) pair("tank-level", i % 2 == 0, i % 2 == 1);  // too few houses
    CHECK(planted.kinds("ins-ends") == Kinds{"answered differently"});
    CHECK(planted.kinds("coll-tilt").empty());
    CHECK(planted.kinds("tank-level").empty());
    const auto rows = health_of(planted.table, {}, rule);
    CHECK(rows[0].sentence.find("10 of 20 houses; kappa 0.00") != std::string::npos);
}

TEST_CASE("a check put off in many jobs is told, each job once, and other days do not count") {
    Planted planted;
    for (int i = 0; i < 12; ++i) {
        const auto job = planted.job();
        planted.result(job, "temp-rise", false);
        for (int again = 0; again < 2; ++again)
            if (i < 6)
                planted.table.deferrals.push_back(
                    {.job = job, .check = "temp-rise", .owner = "", .since = "2027-03-04", .until = "", .closed = ""});
        planted.table.deferrals.push_back(
            {.job = job, .check = "outlet-temp", .owner = "", .since = "2026-03-04", .until = "", .closed = ""});
    }
    CHECK(planted.kinds("temp-rise") == Kinds{"often put off"});
    CHECK(planted.kinds("outlet-temp").empty());
    const auto rows = health_of(planted.table, {}, rule);
    CHECK(rows[0].sentence.find("6 of 12 jobs") != std::string::npos);
}

TEST_CASE("a check is slow beside the rest of its stage, by its middle and not by a few long breaks") {
    const CheckCards cards{{"coll-tilt", {"Collector tilt", 'P', false, "E"}},
                           {"ins-ends", {"Pipe ends closed", 'P', false, "E"}},
                           {"roof-hose", {"Roof under the hose", 'D', false, "E"}},
                           {"tank-level", {"Store level", 'H', true, "D"}}};
    Planted planted;
    const auto took = [&](const std::string& check, int seconds) {
        const auto job = planted.job();
        planted.result(job, check, false);
        planted.table.results.back().seconds = seconds;
        return job;
    };
    std::vector<std::size_t> hosed;
    for (int i = 0; i < 30; ++i) {
        took("coll-tilt", 12 + i % 5);
        took("ins-ends", i < 12 ? 5000 : 14);  // often a break in between: its middle is still short
        hosed.push_back(took("roof-hose", 60 + i));
        took("tank-level", 900);               // alone in its stage
    }
    const auto rows = health_of(planted.table, cards, rule);
    REQUIRE(rows.size() == 1);
    CHECK(rows[0].kind == "slow");
    CHECK(rows[0].check == "roof-hose");
    CHECK(rows[0].tries == 30);
    // 30 figures from 60 to 89: median 74.5, ranks 10 and 21 (scipy 1.10.1 binom).
    CHECK(rows[0].sentence == "\"Roof under the hose\" takes 74 s a reading as a rule (95 %: 69 s to 80 s; 30 jobs), the other checks of its stage 14 s.");
    CHECK(rows[0].proposal.starts_with("Word it shorter"));
    CHECK(std::vector<std::size_t>(hosed.rbegin(), hosed.rend()) == rows[0].jobs);
}

TEST_CASE("three times as slow as the rest is still a check like the others, and a few tries tell nothing") {
    const CheckCards cards{{"coll-tilt", {"Collector tilt", 'P', false, "E"}}, {"roof-hose", {"Roof under the hose", 'H', false, "E"}}};
    for (const int tries : {7, 8}) {
        for (const int seconds : {42, 43}) {
            CAPTURE(tries);
            CAPTURE(seconds);
            Planted planted;
            for (int i = 0; i < tries; ++i)
                for (const auto& [check, time] : {std::pair{"coll-tilt", 14}, std::pair{"roof-hose", seconds}}) {
                    planted.result(planted.job(), check, false);
                    planted.table.results.back().seconds = time;
                }
            const auto rows = health_of(planted.table, cards, rule);
            CHECK(rows.size() == (tries == 8 && seconds == 43 ? 1 : 0));
            for (const auto& row : rows) CHECK(row.proposal.starts_with("Keep it"));
        }
    }
}

TEST_CASE("a row tells the jobs behind it: those that failed, put off, or answered otherwise") {
    Planted planted;
    planted.many("tank-level", 7, 8);
    const auto rows = health_of(planted.table, {{"tank-level", {"Store level", 'H', true}}}, rule);
    REQUIRE(rows.size() == 1);
    CHECK(rows[0].jobs == std::vector<std::size_t>{6, 5, 4, 3, 2, 1, 0});
    HealthRule few = rule;
    few.most_jobs = 2;
    CHECK(health_of(planted.table, {}, few).front().jobs == std::vector<std::size_t>{6, 5});
}

}  // namespace wm::audit
