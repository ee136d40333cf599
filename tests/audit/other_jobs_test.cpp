#include "audit/other_jobs.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

namespace wm::audit {

namespace {

Columns five_jobs() {
    AuditTable table;
    for (int i = 0; i < 5; ++i) {
        JobCard card;
        card.job = fmt::format("J-{}", i);
        table.jobs.push_back(card);
        const std::string day = i == 4 ? "2026-01-02" : "2026-11-25";
        table.results.push_back({.job = table.jobs.size() - 1, .check = "ins-ends", .failed = i != 1, .inconclusive = false, .corrected = false, .outcome = "", .day = day});
        table.results.push_back({.job = table.jobs.size() - 1, .check = "coll-tilt", .failed = true, .inconclusive = false, .corrected = false, .outcome = "", .day = day});
    }
    return Columns{table};
}

Finding finding_of(const std::string& kind, std::int64_t others_failed) {
    Finding finding;
    finding.kind = kind;
    finding.check = "ins-ends";
    finding.jobs = {"J-0"};
    finding.others = {others_failed, 3};
    return finding;
}

}  // namespace

TEST_CASE("the other side's failures are named, of the check and the days alone") {
    const auto jobs = other_jobs(five_jobs(), finding_of("crew and check", 2), "2026-06-01", "2026-11-29");
    REQUIRE(jobs);
    CHECK(*jobs == std::vector<std::string>{"J-2", "J-3"});
}

TEST_CASE("jobs that were not all compared with are not named as if they were") {
    CHECK_FALSE(other_jobs(five_jobs(), finding_of("crew and check", 1), "2026-06-01", "2026-11-29"));
    CHECK_FALSE(other_jobs(five_jobs(), finding_of("instrument drift", 2), "2026-06-01", "2026-11-29"));
    CHECK_FALSE(other_jobs(five_jobs(), finding_of("crew and deferrals", 2), "2026-06-01", "2026-11-29"));
}

TEST_CASE("a gauge is held against the other gauges, not against none of none") {
    CHECK(compared_with("instrument drift") == "what the other gauges of the same streets read");
    CHECK(compared_with("crew and check") == "like jobs of the other crews");
    CHECK(compared_with("a kind of a later version") == "the others");
}

}  // namespace wm::audit
