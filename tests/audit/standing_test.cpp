#include "audit/standing.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

namespace wm::audit {

namespace {

std::size_t add_job(AuditTable& table, const std::string& batch, const std::string& day) {
    const auto job = table.jobs.size();
    JobCard card;
    card.job = fmt::format("J-{}", job);
    card.day = day;
    card.batches = {{"relief valve", batch}};
    table.jobs.push_back(std::move(card));
    table.results.push_back({.job = job, .check = "relief-lever", .failed = false, .inconclusive = false, .corrected = false, .outcome = "conforms", .day = day});
    return job;
}

Question of_batch() {
    Question question;
    question.kind = QuestionKind::Material;
    question.subject = "relief valve RV-2";
    question.check = "relief-lever";
    return question;
}

void add_reading(AuditTable& table, const std::string& day, const std::string& calibrated, bool is_evidence) {
    const auto job = add_job(table, "RV-1", day);
    table.gauges.push_back({.job = job, .check = "pressure-limit-set", .instrument = "PG-4", .kpa = 350.0, .day = day, .calibrated = calibrated});
    table.uses.push_back({.job = job, .check = "pressure-limit-set", .place = "", .instrument = "PG-4", .day = day, .calibrated = calibrated,
                          .is_evidence = is_evidence});
}

GaugeDrift drift_of(const AuditTable& table, std::size_t readings) {
    GaugeDrift drift;
    drift.instrument = "PG-4";
    for (std::size_t i = 0; i < readings; ++i) {
        drift.days.push_back(table.gauges[i].day);
        drift.jobs.push_back(table.jobs[table.gauges[i].job].job);
    }
    return drift;
}

}  // namespace

TEST_CASE("a batch is in use until eight weeks after it was fitted last") {
    AuditTable table;
    add_job(table, "RV-2", "2026-08-03");
    add_job(table, "RV-2", "2026-09-02");
    add_job(table, "RV-1", "2026-11-20");
    const auto just = standing_of(table, of_batch(), "2026-10-28");  // 56 days later
    CHECK(just.last_fitted == "2026-09-02");
    CHECK(just.is_in_use);
    CHECK_FALSE(standing_of(table, of_batch(), "2026-10-29").is_in_use);
    // What is fitted after the week looked at is not known in it.
    CHECK(standing_of(table, of_batch(), "2026-08-31").last_fitted == "2026-08-03");
    auto unknown = of_batch();
    unknown.subject = "relief valve RV-9";
    CHECK(standing_of(table, unknown, "2026-10-29").is_in_use);
}

TEST_CASE("of a batch those jobs wait in which its check is open on the day") {
    AuditTable table;
    const auto with = add_job(table, "RV-2", "2026-09-02");
    const auto without = add_job(table, "RV-1", "2026-09-02");
    table.open.push_back({with, "relief-lever", "", "does not conform", "2026-09-02"});
    table.open.push_back({with, "ins-ends", "", "does not conform", "2026-09-02"});
    table.open.push_back({without, "relief-lever", "", "does not conform", "2026-09-02"});
    CHECK(standing_of(table, of_batch(), "2026-11-29").waiting == 1);
    CHECK(standing_of(table, of_batch(), "2026-09-01").waiting == 0);
}

TEST_CASE("a gauge that was read under a later calibration, or not for eight weeks, is not held beside another") {
    AuditTable table;
    add_reading(table, "2026-09-01", "2026-06-30", true);
    add_reading(table, "2026-09-20", "2026-06-30", true);
    const auto drift = drift_of(table, 2);
    auto standing = standing_of(table, drift, "2026-09-27");
    CHECK(standing.is_in_use);
    CHECK(standing.calibrated_since.empty());
    CHECK_FALSE(standing.is_set_aside);
    CHECK_FALSE(standing_of(table, drift, "2026-11-29").is_in_use);
    add_reading(table, "2026-10-05", "2026-10-01", true);
    CHECK(standing_of(table, drift, "2026-10-11").calibrated_since == "2026-10-01");
    CHECK(standing_of(table, drift, "2026-09-27").calibrated_since.empty());
}

TEST_CASE("a gauge of which nothing counts as proof any more is set aside") {
    AuditTable table;
    add_reading(table, "2026-09-01", "2026-06-30", false);
    add_reading(table, "2026-09-20", "2026-06-30", true);
    CHECK_FALSE(standing_of(table, drift_of(table, 2), "2026-09-27").is_set_aside);
    table.uses[1].is_evidence = false;
    CHECK(standing_of(table, drift_of(table, 2), "2026-09-27").is_set_aside);
}

}  // namespace wm::audit
