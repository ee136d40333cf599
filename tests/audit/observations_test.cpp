#include "audit/observations.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>

namespace wm::audit {

namespace {

const ObservationSpan span{.first_day = "2026-06-01", .last_day = "2026-11-29", .first_recent_day = "2026-10-05",
                           .first_day_of_week = "2026-11-23"};

std::size_t add(AuditTable& table, const std::string& crew, const std::string& day = "2026-11-10") {
    JobCard card;
    card.job = fmt::format("J-{}", table.jobs.size());
    card.crew = crew;
    card.day = day;
    table.jobs.push_back(card);
    table.traces.push_back({.job = table.jobs.size() - 1, .entries = 90, .hasty = 0, .alike = {}, .photos = {}});
    return table.jobs.size() - 1;
}

std::vector<Observation> observed(const AuditTable& table) {
    return observations_of(table, {{"anchor-torque", {"Anchor torque", 'H', false}}}, span);
}

}  // namespace

TEST_CASE("equal readings in one crew are asked about, with the tool as a possible reason") {
    AuditTable table;
    for (int i = 0; i < 14; ++i) {
        const auto job = add(table, "C6");
        if (i < 4) table.traces[job].alike = {"anchor-torque"};
        if (i < 3) table.traces[job].hasty = 3;
    }
    for (int i = 0; i < 60; ++i) add(table, "C1");
    const auto all = observed(table);
    REQUIRE(all.size() == 1);
    CHECK(all[0].kind == "equal readings");
    CHECK(all[0].subject == "C6");
    CHECK(all[0].sentence ==
          "Crew C6 wrote one and the same figure at every place of \"Anchor torque\" in 4 of 14 jobs; the others in 0 of 60. "
          "In 3 of these jobs readings also came 1 to 3 s apart. How were they read?");
    CHECK(all[0].jobs.size() == 4);
    CHECK(all[0].what_to_do.find("Ask the crew first") == 0);
    // Where everybody's wrench clicks at its setting nobody is asked.
    for (auto& trace : table.traces) trace.alike = {"anchor-torque"};
    CHECK(observed(table).empty());
}

TEST_CASE("old jobs and a single one are no question") {
    AuditTable table;
    table.traces[add(table, "C6")].alike = {"anchor-torque"};
    for (int i = 0; i < 5; ++i) table.traces[add(table, "C6", "2026-09-01")].alike = {"anchor-torque"};
    for (int i = 0; i < 60; ++i) add(table, "C1");
    CHECK(observed(table).empty());
}

TEST_CASE("many readings a few seconds apart are asked about when others do not write so") {
    AuditTable table;
    for (int i = 0; i < 3; ++i) table.traces[add(table, "C6")].hasty = 5;
    table.traces[add(table, "C6")].hasty = 4;
    for (int i = 0; i < 40; ++i) add(table, "C1");
    const auto all = observed(table);
    REQUIRE(all.size() == 1);
    CHECK(all[0].kind == "pace");
    CHECK(all[0].sentence.find("in 3 of 4 jobs; the others in 0 of 40") != std::string::npos);
}

TEST_CASE("one photo in two jobs is asked about in the week of the later one") {
    AuditTable table;
    const auto first = add(table, "C6", "2026-11-10");
    const auto second = add(table, "C6", "2026-11-25");
    table.traces[first].photos = {{"anchor-torque", "f00d"}, {"anchor-torque", "f00d"}};
    table.traces[second].photos = {{"anchor-torque", "beef"}};
    CHECK(observed(table).empty());
    table.traces[second].photos = {{"anchor-torque", "f00d"}};
    const auto all = observed(table);
    REQUIRE(all.size() == 1);
    CHECK(all[0].kind == "one photo twice");
    CHECK(all[0].jobs == std::vector<std::string>{"J-0", "J-1"});
    table.jobs[second].day = "2026-11-20";
    CHECK(observed(table).empty());
}

TEST_CASE("homes of one street with different frost classes are listed, the less cautious ones") {
    AuditTable table;
    for (int i = 0; i < 6; ++i) {
        const auto job = add(table, "C1", "2026-07-10");
        table.jobs[job].street = i < 5 ? "Millpond Hollow" : "Upper Sill";
        table.jobs[job].frost_class = i < 2 ? "none" : "regular";
        table.jobs[job].system = i == 0 ? "direct" : "indirect";
    }
    const auto all = observed(table);
    REQUIRE(all.size() == 1);
    CHECK(all[0].kind == "neighbours differ");
    CHECK(all[0].subject == "Millpond Hollow");
    CHECK(all[0].jobs == std::vector<std::string>{"J-0", "J-1"});
    CHECK(all[0].sentence.find("2 as \"none\", 3 as \"regular\"") != std::string::npos);
    CHECK(all[0].sentence.find("1 of those taken for \"none\" have a direct system") != std::string::npos);
}

TEST_CASE("a failure at a later visit leads back to the job before") {
    AuditTable table;
    const auto first = add(table, "C2", "2026-07-07");
    const auto visit = add(table, "C1", "2026-11-24");
    table.jobs[first].kind = "commissioning";
    table.jobs[visit].kind = "service";
    table.jobs[visit].after = "J-0";
    table.results.push_back({.job = visit, .check = "anchor-torque", .failed = true, .inconclusive = false, .corrected = false,
                             .outcome = "", .day = "2026-11-24"});
    const auto all = observed(table);
    REQUIRE(all.size() == 1);
    CHECK(all[0].kind == "came back");
    CHECK(all[0].sentence == "\"Anchor torque\" did not conform at the visit J-1, 140 days after J-0 of crew C2.");
    table.results[0].failed = false;
    CHECK(observed(table).empty());
}

}  // namespace wm::audit
