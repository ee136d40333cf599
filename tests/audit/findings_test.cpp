#include "audit/findings.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

namespace wm::audit {

namespace {

struct Made {
    std::string crew = "C1";
    bool vulnerable = false;
    std::string batch = "RV-1", day = "2026-11-10";
};

void add(AuditTable& table, const Made& made, const std::string& check, int failed, int tries) {
    for (int i = 0; i < tries; ++i) {
        table.results.push_back({.job = table.jobs.size(), .check = check, .failed = i < failed, .inconclusive = false,
                                 .corrected = false, .outcome = "", .day = made.day});
        JobCard card;
        card.job = fmt::format("J-{}", table.jobs.size());
        card.crew = made.crew;
        card.vulnerable = made.vulnerable;
        card.batches = {{"relief valve", made.batch}};
        table.jobs.push_back(std::move(card));
    }
}

std::vector<Finding> found(const AuditTable& table) {
    return findings_of(table, {}, {.first_day = "2026-06-01", .last_day = "2026-11-29"});
}

}  // namespace

TEST_CASE("a crew that fails only where vulnerable people live is told once, with the rest beside") {
    AuditTable table;
    add(table, {.crew = "C2", .vulnerable = true}, "outlet-temp", 9, 15);
    add(table, {.crew = "C2"}, "outlet-temp", 1, 35);
    add(table, {.crew = "C1", .vulnerable = true}, "outlet-temp", 2, 70);
    add(table, {.crew = "C1"}, "outlet-temp", 5, 160);
    const auto all = found(table);
    REQUIRE(all.size() == 1);
    CHECK(all[0].kind == "crew, check and household");
    CHECK(all[0].subject == "C2");
    CHECK(all[0].own == Tally{9, 15});
    CHECK(all[0].others == Tally{2, 70});
    // scipy 1.10.1, stats.fisher_exact([[9, 6], [2, 68]], 'greater').
    CHECK(all[0].p / 5.764487783821354e-07 == doctest::Approx(1.0).epsilon(1e-9));
    CHECK(all[0].jobs.size() == 9);
    CHECK_FALSE(all[0].what_to_do.empty());
}

TEST_CASE("a bad batch is named and the crews that had it are not") {
    AuditTable table;
    for (const char* crew : {"C1", "C2", "C3"}) {
        add(table, {.crew = crew, .batch = "RV-1"}, "relief-lever", 1, 80);
        add(table, {.crew = crew, .batch = "RV-2"}, "relief-lever", 4, crew == std::string{"C3"} ? 12 : 16);
    }
    const auto all = found(table);
    REQUIRE(all.size() == 1);
    CHECK(all[0].kind == "batch and check");
    CHECK(all[0].subject == "relief valve RV-2");
}

TEST_CASE("a step in time is told, unless a new batch explains it") {
    AuditTable table;
    add(table, {.day = "2026-08-10"}, "relief-lever", 3, 120);
    add(table, {.day = "2026-11-10"}, "relief-lever", 20, 100);
    const auto step = found(table);
    REQUIRE(step.size() == 1);
    CHECK(step[0].kind == "recent weeks and check");
    CHECK(step[0].subject.empty());
    for (std::size_t i = 0; i < table.jobs.size(); ++i) table.jobs[i].batches = {{"relief valve", i < 120 ? "RV-1" : "RV-2"}};
    const auto batch = found(table);
    REQUIRE(batch.size() == 1);
    CHECK(batch[0].kind == "batch and check");
    CHECK(batch[0].sentence.ends_with("the season may be behind it."));
}

TEST_CASE("a batch that nobody fits any more is not ordered held back") {
    AuditTable table;
    const auto fill = [&](const char* last_day) {
        table = {};
        for (const char* crew : {"C1", "C2", "C3"}) {
            add(table, {.crew = crew, .batch = "RV-1"}, "relief-lever", 1, 80);
            add(table, {.crew = crew, .batch = "RV-2", .day = last_day}, "relief-lever", 4, 16);
        }
        const auto all = found(table);
        REQUIRE(all.size() == 1);
        return all[0].what_to_do;
    };
    CHECK(fill("2026-11-10").starts_with("Hold the rest of relief valve RV-2 back."));
    CHECK(fill("2026-08-10").starts_with("Nothing to hold back: none of relief valve RV-2 was fitted after 2026-08-10"));
}

TEST_CASE("no results, no findings") { CHECK(found(AuditTable{}).empty()); }

}  // namespace wm::audit
