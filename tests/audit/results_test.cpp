#include "audit/results.hpp"

#include <doctest/doctest.h>

namespace wm::audit {

namespace {

// One job with a row of each kind.
AuditTable one_job(const std::string& number) {
    AuditTable table;
    table.jobs.push_back({.job = number, .crew = "C1", .street = "", .roof = "", .system = "", .vulnerable = false, .day = "",
                          .week = "", .batches = {}});
    table.results.push_back({.job = 0, .check = "coll-tilt", .failed = true, .inconclusive = false, .corrected = false,
                             .outcome = "does not conform", .day = "2026-09-03"});
    table.open.push_back({.job = 0, .check = "coll-tilt", .owner = "", .what = "does not conform", .since = "2026-09-03"});
    table.deferrals.push_back({.job = 0, .check = "day-after", .owner = "", .since = "", .until = "", .closed = ""});
    table.gauges.push_back({.job = 0, .check = "test-pressure", .instrument = "PG-1", .kpa = 480.0, .day = ""});
    table.traces.push_back({});
    table.uses.push_back({.job = 0, .check = "coll-tilt", .place = "", .instrument = "IN-1", .day = "", .calibrated = ""});
    return table;
}

record::JobState job_named(const std::string& number, bool practice) {
    record::JobState state;
    state.number = number;
    state.opened = record::JobOpened{};
    state.opened->practice = practice;
    return state;
}

}  // namespace

TEST_CASE("a check goes by its title, and by its id where nobody titled it") {
    const CheckCards cards{{"coll-tilt", {.title = "Collector tilt"}}, {"roof-hose", {}}};
    CHECK(title_of(cards, "coll-tilt") == "Collector tilt");
    CHECK(title_of(cards, "roof-hose") == "roof-hose");
    CHECK(title_of(cards, "unheard-of") == "unheard-of");
}

TEST_CASE("rows that are put together still belong to their own job") {
    AuditTable all;
    for (const char* number : {"J-1", "J-2", "J-3"}) add_rows(all, one_job(number));
    REQUIRE(all.jobs.size() == 3);
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(all.results.at(i).job == i);
        CHECK(all.open.at(i).job == i);
        CHECK(all.deferrals.at(i).job == i);
        CHECK(all.gauges.at(i).job == i);
        CHECK(all.traces.at(i).job == i);
        CHECK(all.uses.at(i).job == i);
    }
    CHECK(all.jobs[2].job == "J-3");
}

TEST_CASE("practice and jobs without a reading are not counted") {
    const std::vector<record::JobState> jobs{job_named("J-1", true), job_named("J-2", false)};
    CHECK(audit_table(jobs).jobs.empty());
    CHECK(audit_table(jobs).results.empty());
}

TEST_CASE("a job without a reading has a row where somebody waits, and no day, no week and no result") {
    auto called = job_named("J-1", false);
    called.complaints.emplace_back();
    called.complaints.back().told.complaint = "C-1";
    called.complaints.back().told.symptom = "no-water";
    called.complaints.back().told.told_at = "2026-11-25T10:00:00+00:00";
    auto put_off = job_named("J-2", false);
    auto& check = put_off.checks["temp-rise"];
    record::DeferralState deferral;
    deferral.origin.time = "2026-11-20T10:00:00.000Z";
    deferral.deferred.until = "2026-12-04";
    check.deferrals.push_back(deferral);
    check.deferral = deferral;
    check.outcome = measure::Outcome::Deferred;
    const std::vector<record::JobState> jobs{called, job_named("J-3", false), put_off};
    const auto table = audit_table(jobs);
    REQUIRE(table.jobs.size() == 2);
    CHECK(table.results.empty());
    CHECK(table.traces.size() == 2);
    for (const auto& card : table.jobs) {
        CHECK(card.day.empty());
        CHECK(card.week.empty());
    }
    REQUIRE(table.complaints.size() == 1);
    CHECK(table.jobs[table.complaints[0].job].job == "J-1");
    CHECK(table.complaints[0].day == "2026-11-25");
    REQUIRE(table.open.size() == 1);
    CHECK(table.jobs[table.open[0].job].job == "J-2");
    CHECK(table.open[0].since == "2026-11-20");
    CHECK(table.deferrals.size() == 1);
}

}  // namespace wm::audit
