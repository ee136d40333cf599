#include <doctest/doctest.h>
#include <fmt/format.h>

#include <random>

#include "audit/columns.hpp"

namespace wm::audit {

namespace {

Columns some_columns() {
    Columns columns;
    for (int i = 0; i < 12; ++i) {
        AuditTable table;
        JobCard card;
        card.job = fmt::format("J-{:02}", i);
        card.crew = fmt::format("crew {}", i % 3);
        card.street = "Upper Sill";
        card.vulnerable = i % 2 == 0;
        card.day = "2027-03-04";
        card.week = "2027-W09";
        card.batches = {{"relief valve", fmt::format("RV-{}", i % 2)}};
        card.after = i == 5 ? "J-01" : "";
        card.visit = {.handed_over = i % 4 == 0 ? "" : "2027-03-05", .handed_by = fmt::format("hash {}", i), .loop_run_m = 0.5 * i,
                      .coldest_c = i % 3 == 0 ? std::nullopt : std::optional{-9.0}, .air_c = 4.5, .pipe = "mixed", .controller = "none"};
        table.jobs.push_back(card);
        table.results.push_back({.job = 0, .check = "ins-ends", .failed = i == 3, .inconclusive = false, .corrected = i == 3,
                                 .outcome = "conforms", .day = "2027-03-04"});
        table.uses.push_back({.job = 0, .check = "ins-ends", .place = "1", .instrument = "TH-1", .day = "2027-03-04", .calibrated = "",
                              .is_evidence = i != 4, .text = "12 mm"});
        table.open.push_back({.job = 0, .check = "day-after", .owner = "Tindo Quellaby", .what = "deferred until 2027-04-01", .since = "2027-03-04"});
        table.deferrals.push_back({.job = 0, .check = "day-after", .owner = "", .since = "2027-03-04", .until = "2027-04-01", .closed = ""});
        table.gauges.push_back({.job = 0, .check = "pressure-limit-set", .instrument = "PG-1", .kpa = 301.5, .day = "2027-03-04", .calibrated = ""});
        if (i % 3 == 0)
            table.complaints.push_back({.job = 0, .complaint = fmt::format("C-{}", i), .symptom = "no-water", .day = "2027-03-05", .air = "-6 °C",
                                        .frost = true, .closed = i == 3 ? "2027-03-08" : "", .cause = i == 3 ? "frost-cold-feed" : ""});
        table.traces.push_back({.job = 0, .entries = 3, .hasty = 1, .alike = {"anchor-torque"}, .photos = {{"nut-marks", "f00d"}}});
        columns.put(table);
    }
    return columns;
}

}  // namespace

TEST_CASE("columns that were kept are the columns that come back") {
    const auto columns = some_columns();
    const auto back = Columns::read_kept(columns.kept());
    REQUIRE(back);
    CHECK(table_of(*back) == table_of(columns));
    for (std::size_t job = 0; job < columns.job_count(); ++job) {
        CHECK(back->codes(job).failed == columns.codes(job).failed);
        CHECK(back->codes(job).first_day == columns.codes(job).first_day);
        CHECK(back->batches(job) == columns.batches(job));
    }
    CHECK(back->kept() == columns.kept());
    const auto none = Columns::read_kept(Columns{}.kept());
    REQUIRE(none);
    CHECK(none->job_count() == 0);
}

TEST_CASE("what comes back can be kept up to date") {
    auto columns = some_columns();
    auto back = Columns::read_kept(columns.kept());
    REQUIRE(back);
    for (auto* each : {&columns, &*back}) {
        each->remove("J-04");
        AuditTable job;
        job.jobs.push_back({.job = "J-99", .crew = "crew 9", .street = "", .roof = "", .system = "", .vulnerable = false, .day = "2027-03-05",
                            .week = "2027-W09", .batches = {}});
        job.results.push_back({.job = 0, .check = "coll-tilt", .failed = true, .inconclusive = false, .corrected = false, .outcome = "does not conform",
                               .day = "2027-03-05"});
        each->put(job);
    }
    CHECK(table_of(*back) == table_of(columns));
}

TEST_CASE("torn or spoilt bytes give no columns, or columns that can be asked") {
    const auto bytes = some_columns().kept();
    for (std::size_t size = 0; size < bytes.size(); size += 7) CHECK_FALSE(Columns::read_kept(bytes.substr(0, size)));
    CHECK_FALSE(Columns::read_kept(bytes + "x"));
    std::mt19937_64 random{7};
    for (std::size_t at = 0; at < bytes.size(); at += 1 + random() % 9) {
        auto spoilt = bytes;
        spoilt[at] = static_cast<char>(random());
        if (const auto back = Columns::read_kept(spoilt)) CHECK(table_of(*back).jobs.size() == back->job_count());
    }
}

}  // namespace wm::audit
