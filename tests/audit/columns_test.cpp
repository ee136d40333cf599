#include "audit/columns.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <random>

#include "audit/week.hpp"
#include "units/calendar.hpp"

namespace wm::audit {

namespace {

// A job as a journal might leave it after some of its entries.
AuditTable random_job(std::mt19937_64& random, const std::string& number) {
    const auto any = [&](const char* what, unsigned kinds) { return fmt::format("{}{}", what, random() % kinds); };
    const auto day = units::day_after("2027-01-01", static_cast<int>(random() % 120)).value();
    AuditTable table;
    JobCard card;
    card.job = number;
    card.crew = any("crew ", 4);
    card.street = any("street ", 3);
    card.roof = any("roof ", 2);
    card.system = any("system ", 2);
    card.vulnerable = random() % 3 == 0;
    card.day = day;
    card.week = units::week_of(day).value();
    card.batches = {{"relief valve", any("RV-", 3)}, {"fluid", any("PG-", 2)}};
    card.kind = "commissioning";
    table.jobs.push_back(card);
    for (const char* check : {"ins-ends", "outlet-temp", "relief-lever", "coll-tilt", "loop-freeze-point"}) {
        if (random() % 4 == 0) continue;
        const bool failed = random() % 5 == 0;
        table.results.push_back({.job = 0, .check = check, .failed = failed, .inconclusive = !failed && random() % 9 == 0,
                                 .corrected = failed && random() % 2 == 0, .outcome = failed ? "does not conform" : "conforms",
                                 .day = units::day_after(day, static_cast<int>(random() % 2)).value(),
                                 .seconds = static_cast<int>(random() % 400)});
        if (random() % 2 == 0)
            table.uses.push_back({.job = 0, .check = check, .place = any("", 3), .instrument = any("TH-", 3), .day = day,
                                  .calibrated = random() % 2 == 0 ? "" : "2026-12-01", .is_evidence = random() % 7 != 0, .text = any("", 50)});
        if (failed) table.open.push_back({.job = 0, .check = check, .owner = card.crew, .what = "does not conform", .since = day});
    }
    if (random() % 3 == 0) table.deferrals.push_back({.job = 0, .check = "temp-rise", .owner = "", .since = day, .until = "", .closed = ""});
    if (random() % 2 == 0) table.gauges.push_back({.job = 0, .check = "pressure-limit-set", .instrument = any("PG-", 3), .kpa = 300.0, .day = day});
    if (random() % 4 == 0)
        table.complaints.push_back({.job = 0, .complaint = any("C-", 900), .symptom = any("symptom ", 3), .day = day, .air = "", .frost = random() % 2 == 0});
    table.traces.push_back({.job = 0, .entries = 5, .hasty = static_cast<int>(random() % 3), .alike = {}, .photos = {}});
    return table;
}

AuditTable together(const std::map<std::string, AuditTable>& jobs) {
    AuditTable all;
    for (const auto& [number, rows] : jobs) add_rows(all, rows);
    return all;
}

}  // namespace

TEST_CASE("a day is a number in the order of days, and what is no day is none") {
    CHECK(day_code("2027-03-04") == 20270304);
    CHECK(day_text(20270304) == "2027-03-04");
    CHECK(day_code("2026-12-31") < day_code("2027-01-01"));
    for (const char* text : {"", "soon", "2027-3-04", "2027-03-0x", "2027-03-04T09:00"}) CHECK(day_code(text) == 0);
    CHECK(day_text(0).empty());
}

TEST_CASE("columns give back the rows they were made of") {
    std::mt19937_64 random{1};
    std::map<std::string, AuditTable> jobs;
    for (int i = 0; i < 40; ++i) {
        const auto number = fmt::format("J-{:02}", i);
        jobs[number] = random_job(random, number);
    }
    const auto all = together(jobs);
    CHECK(table_of(Columns{all}) == all);
    // Rows that do not stand by job do so afterwards; each keeps its order within the job.
    AuditTable mixed = all;
    std::stable_sort(mixed.results.begin(), mixed.results.end(), [](const CheckResult& a, const CheckResult& b) { return a.job % 7 < b.job % 7; });
    CHECK(table_of(Columns{mixed}) == all);
}

TEST_CASE("columns kept up to date entry by entry are those of a full rebuild") {
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        CAPTURE(seed);
        std::mt19937_64 random{seed};
        std::map<std::string, AuditTable> jobs;
        Columns kept;
        for (int step = 0; step < 120; ++step) {
            const auto number = fmt::format("J-{:02}", random() % 25);
            if (random() % 6 == 0) {
                jobs.erase(number);
                kept.remove(number);
            } else {
                jobs[number] = random_job(random, number);
                kept.put(jobs[number]);
            }
            if (step % 10 != 9) continue;
            const Columns rebuilt{together(jobs)};
            REQUIRE(table_of(kept) == table_of(rebuilt));
            for (std::size_t job = 0; job < kept.job_count(); ++job) {
                CHECK(kept.codes(job).failed == rebuilt.codes(job).failed);
                CHECK(kept.codes(job).first_day == rebuilt.codes(job).first_day);
                CHECK(kept.codes(job).last_day == rebuilt.codes(job).last_day);
                for (auto use = kept.uses_of(job).first; use < kept.uses_of(job).last; ++use) CHECK(kept.job_of_use(use) == job);
            }
        }
        // The numbers behind the texts differ by the way they came; no figure may.
        const Columns rebuilt{together(jobs)};
        const auto week = week_audit(kept, {}, "2027-W09");
        const auto again = week_audit(rebuilt, {}, "2027-W09");
        CHECK(week.results == again.results);
        REQUIRE(week.by_check.size() == again.by_check.size());
        for (std::size_t i = 0; i < week.by_check.size(); ++i) {
            CHECK(week.by_check[i].check == again.by_check[i].check);
            CHECK(week.by_check[i].tally == again.by_check[i].tally);
            CHECK(week.by_check[i].jobs == again.by_check[i].jobs);
        }
        REQUIRE(week.by_crew.size() == again.by_crew.size());
        for (std::size_t i = 0; i < week.by_crew.size(); ++i) CHECK(week.by_crew[i].subject == again.by_crew[i].subject);
        REQUIRE(week.findings.size() == again.findings.size());
        for (std::size_t i = 0; i < week.findings.size(); ++i) CHECK(week.findings[i].sentence == again.findings[i].sentence);
    }
}

TEST_CASE("a table without a job changes nothing, and what is not there cannot be removed") {
    std::mt19937_64 random{3};
    Columns columns;
    columns.put(random_job(random, "J-1"));
    const auto before = table_of(columns);
    columns.put({});
    columns.remove("J-0");
    columns.remove("J-2");
    CHECK(table_of(columns) == before);
    columns.remove("J-1");
    CHECK(columns.job_count() == 0);
    CHECK(columns.result_count() == 0);
}

}  // namespace wm::audit
