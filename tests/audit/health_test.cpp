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

}  // namespace wm::audit
