#include "audit/withdrawn.hpp"

#include <doctest/doctest.h>

#include "audit/results.hpp"
#include "audit/week.hpp"

namespace wm::audit {

namespace {

using measure::Outcome;

// A pressure read with PG-4 on 25 November 2026, a Wednesday of week 48 (ISO 8601), and set aside later.
record::JobState set_aside_job(Outcome first, Outcome now) {
    record::JobState job;
    job.number = "J-1";
    job.opened = record::JobOpened{};
    auto& check = job.checks["pressure-limit-set"];
    check.id = "pressure-limit-set";
    record::Reading reading;
    reading.origin.entry = "e1";
    reading.origin.order = 1;
    reading.origin.time = "2026-11-25T10:00:00.000Z";
    reading.taken.instrument = "PG-4";
    reading.taken.read_at = "2026-11-25T10:00:00+00:00";
    reading.taken.judged.outcome = reading.taken.judged.place_outcome = first;
    record::Rejudged again;
    again.check = "pressure-limit-set";
    again.reading = "e1";
    again.judged.outcome = again.judged.place_outcome = now;
    again.because = "instrument in doubt: PG-4 from 2026-11-20";
    record::Origin origin;
    origin.entry = "e2";
    origin.order = 2;
    check.readings.push_back(reading);
    check.rejudgements.emplace_back(origin, again);
    record::derive(check, {});
    return job;
}

record::ConcessionState conceded_at(std::size_t order) {
    record::ConcessionState concession;
    concession.origin.entry = "e3";
    concession.origin.order = order;
    return concession;
}

const CheckCards severe_pressure = {{"pressure-limit-set", {.title = "Pressure limited", .severity = 'H', .hold = true}}};
constexpr const char* said = "its evidence was withdrawn (instrument in doubt: PG-4 from 2026-11-20)";

}  // namespace

TEST_CASE("a check whose evidence was withdrawn waits, and the words name the instrument") {
    const std::vector<record::JobState> jobs{set_aside_job(Outcome::Conforms, Outcome::Open)};
    const auto table = audit_table(jobs);
    REQUIRE(table.open.size() == 1);
    CHECK(table.open[0].check == "pressure-limit-set");
    CHECK(table.open[0].what == said);
    CHECK(table.open[0].since == "2026-11-25");
    CHECK(is_withdrawn(table.open[0].what));
    CHECK_FALSE(is_withdrawn("does not conform"));
}

TEST_CASE("withdrawn evidence of what can hurt someone is among what can hurt someone, in its week and in later ones") {
    const std::vector<record::JobState> jobs{set_aside_job(Outcome::Conforms, Outcome::Open)};
    for (const auto& [name, days] : {std::pair{"2026-W48", 4}, std::pair{"2026-W50", 18}}) {
        CAPTURE(name);
        const auto week = week_audit(audit_table(jobs), severe_pressure, name);
        REQUIRE(week.open.size() == 1);
        REQUIRE(week.severe.size() == 1);
        CHECK_FALSE(week.severe[0].corrected);
        CHECK(week.severe[0].outcome == std::string{said} + ", open for " + std::to_string(days) + " days");
        REQUIRE_FALSE(week.samples.empty());
        CHECK(week.samples[0].why == "withdrawn evidence of something that can hurt someone: Pressure limited");
    }
    // It failed at first in its own week and proves nothing now: one row, which says so.
    const std::vector<record::JobState> failed{set_aside_job(Outcome::DoesNotConform, Outcome::Open)};
    const auto week = week_audit(audit_table(failed), severe_pressure, "2026-W48");
    REQUIRE(week.severe.size() == 1);
    CHECK(week.severe[0].outcome == std::string{said} + ", open for 4 days");
}

TEST_CASE("what never proved anything, still proves it, or was conceded since, was not withdrawn") {
    CHECK_FALSE(withdrawn_in_words(set_aside_job(Outcome::Open, Outcome::Open).checks["pressure-limit-set"]));
    CHECK_FALSE(withdrawn_in_words(set_aside_job(Outcome::Inconclusive, Outcome::Conforms).checks["pressure-limit-set"]));
    auto check = set_aside_job(Outcome::Conforms, Outcome::Open).checks["pressure-limit-set"];
    CHECK(withdrawn_in_words(check) == said);
    // A concession before the withdrawal accepted what was read then.
    check.concession = conceded_at(1);
    CHECK(withdrawn_in_words(check) == said);
    check.concession = conceded_at(3);
    CHECK_FALSE(withdrawn_in_words(check));
    record::CheckState unread;
    CHECK_FALSE(withdrawn_in_words(unread));
}

}  // namespace wm::audit
