#include "audit/week.hpp"

#include <doctest/doctest.h>

#include <fmt/format.h>

namespace wm::audit {

namespace {

// Crews on roofs; each job has one result of one check.
void add_jobs(AuditTable& table, const std::string& crew, const std::string& roof, int failed, int tries) {
    for (int i = 0; i < tries; ++i) {
        table.results.push_back({.job = table.jobs.size(), .check = "ins-ends", .failed = i < failed, .inconclusive = false,
                                 .corrected = i < failed, .outcome = "conforms", .day = "2026-11-25"});
        table.jobs.push_back({.job = fmt::format("J-{}", table.jobs.size()), .crew = crew, .street = "", .roof = roof,
                              .system = "indirect", .vulnerable = false, .day = "2026-11-25", .week = "2026-W48",
                              .batches = {}});
        table.jobs.back().visit.handed_over = "2026-11-25";
        table.jobs.back().visit.handed_by = fmt::format("entry {}", table.jobs.size());
    }
}

const CheckCards cards = {{"ins-ends", {"Pipe ends closed", 'P', false}}, {"outlet-temp", {"Tap", 'H', true}}};

}  // namespace

TEST_CASE("a crew that fails far more often than the others is named with its figures") {
    AuditTable table;
    add_jobs(table, "C3", "clay-tile", 9, 31);
    add_jobs(table, "C1", "clay-tile", 6, 142);
    const auto week = week_audit(table, cards, "2026-W48");
    REQUIRE(week.findings.size() == 1);
    const auto& finding = week.findings.front();
    CHECK(finding.subject == "C3");
    CHECK(finding.own == Tally{9, 31});
    CHECK(finding.others == Tally{6, 142});
    // Source: scipy 1.10.1, stats.fisher_exact([[9,22],[6,136]], 'greater').
    CHECK(finding.p / 1.4935058e-4 == doctest::Approx(1.0).epsilon(1e-6));
    CHECK(finding.sentence.starts_with("Crew C3 failed \"Pipe ends closed\" in 9 of 31 jobs; the others in 6 of 142."));
}

TEST_CASE("a crew with all the hard roofs is not blamed for them") {
    AuditTable table;
    add_jobs(table, "C5", "slate", 6, 40);
    add_jobs(table, "C1", "slate", 2, 13);
    add_jobs(table, "C1", "clay-tile", 1, 100);
    CHECK(week_audit(table, cards, "2026-W48").findings.empty());
}

TEST_CASE("fewer than eight tries are never a finding") {
    AuditTable table;
    add_jobs(table, "C3", "clay-tile", 7, 7);
    add_jobs(table, "C1", "clay-tile", 0, 100);
    CHECK(week_audit(table, cards, "2026-W48").findings.empty());
}

TEST_CASE("shares carry their tries and interval, and small numbers are never certain") {
    AuditTable table;
    add_jobs(table, "C3", "clay-tile", 2, 2);
    const auto week = week_audit(table, cards, "2026-W48");
    REQUIRE(week.by_check.size() == 1);
    CHECK(week.by_check[0].tally == Tally{2, 2});
    CHECK(week.by_check[0].interval.low < 0.4);
    CHECK(week.jobs == 2);
    CHECK(week.results == 2);
    CHECK(week_audit(table, cards, "2026-W47").jobs == 0);
}

TEST_CASE("a first reading that could not tell is counted, and is no failure") {
    AuditTable table;
    add_jobs(table, "C3", "clay-tile", 1, 10);
    for (std::size_t i = 4; i < 7; ++i) table.results[i].inconclusive = true;
    const auto week = week_audit(table, cards, "2026-W48");
    REQUIRE(week.by_check.size() == 1);
    CHECK(week.by_check[0].tally == Tally{1, 10});
    CHECK(week.by_check[0].inconclusive == 3);
    CHECK(week.by_check[0].jobs == std::vector<std::string>{"J-0"});
    CHECK(week.by_crew[0].inconclusive == 3);
    CHECK(week.inconclusive == 3);
}

TEST_CASE("one small probability among many comparisons that could be as small is no finding") {
    // Alone, 5 of 20 against 2 of 80 has p below 0.01 and is a finding. Checks that never fail can
    // never stand out and cost it nothing (Tarone 1990); beside 60 checks that fail in 7 of 100 jobs
    // of both crews it is what chance does. Source of the latter: Benjamini and Hochberg 1995, the
    // smallest of m probabilities counts m times.
    AuditTable table;
    add_jobs(table, "C3", "clay-tile", 5, 20);
    add_jobs(table, "C1", "clay-tile", 2, 80);
    const auto alone = week_audit(table, cards, "2026-W48");
    REQUIRE(alone.findings.size() == 1);
    CHECK(alone.findings.front().p < 0.01);
    const auto beside = [&](int checks, int failures) {
        auto all = table;
        for (int check = 0; check < checks; ++check)
            for (std::size_t job = 0; job < all.jobs.size(); ++job)
                all.results.push_back({.job = job, .check = fmt::format("quiet-{}", check),
                                       .failed = static_cast<int>(job) % 14 == check % 14 && failures > 0,
                                       .inconclusive = false, .corrected = false, .outcome = "conforms",
                                       .day = "2026-11-25"});
        return week_audit(all, cards, "2026-W48").findings.size();
    };
    CHECK(beside(60, 0) == 1);
    CHECK(beside(60, 7) == 0);
}

TEST_CASE("what can hurt someone is listed one by one and sampled") {
    AuditTable table;
    add_jobs(table, "C3", "clay-tile", 0, 3);
    table.results.push_back({.job = 1, .check = "outlet-temp", .failed = true, .inconclusive = false, .corrected = true,
                             .outcome = "conforms", .day = "2026-11-25"});
    const auto week = week_audit(table, cards, "2026-W48");
    REQUIRE(week.severe.size() == 1);
    CHECK(week.severe[0].job == "J-1");
    CHECK(week.severe[0].corrected);
    CHECK(week.samples.front().job == "J-1");
    CHECK(week.samples.size() == 3);  // and two at random of three jobs
}

TEST_CASE("what can hurt someone and waits stands on top in every week until it is done") {
    AuditTable table;
    add_jobs(table, "C3", "clay-tile", 0, 3);
    table.open.push_back({.job = 1, .check = "outlet-temp", .owner = "Ode", .what = "inconclusive", .since = "2026-11-25"});
    table.open.push_back({.job = 2, .check = "ins-ends", .owner = "", .what = "does not conform", .since = "2026-11-25"});
    const auto later = week_audit(table, cards, "2026-W50");
    REQUIRE(later.severe.size() == 1);
    CHECK(later.severe[0].check == "outlet-temp");
    CHECK_FALSE(later.severe[0].corrected);
    CHECK(later.severe[0].outcome == "inconclusive, open for 18 days");
    CHECK(later.open.size() == 2);
}

TEST_CASE("the same seed draws the same sample") {
    AuditTable table;
    add_jobs(table, "C3", "clay-tile", 0, 40);
    const auto one = week_audit(table, cards, "2026-W48", {.seed = "5"});
    const auto two = week_audit(table, cards, "2026-W48", {.seed = "5"});
    // Five by lot; one in ten of the crew's forty are aimed at and may be among them.
    REQUIRE(one.samples.size() >= 5);
    REQUIRE(one.samples.size() <= 9);
    for (std::size_t i = 0; i < 5; ++i) CHECK(one.samples[i].job == two.samples[i].job);
}

TEST_CASE("the draw depends on the handovers, and only on those of the week") {
    AuditTable table;
    add_jobs(table, "C3", "clay-tile", 0, 40);
    const auto lots = [](const AuditTable& of) {
        std::vector<std::string> jobs;
        for (const auto& row : week_audit(of, cards, "2026-W48").samples)
            if (row.why.starts_with("drawn at random")) jobs.push_back(row.job);
        return jobs;
    };
    const auto first = lots(table);
    REQUIRE(first.size() == 5);
    auto later = table;
    add_jobs(later, "C1", "slate", 0, 6);
    for (std::size_t i = 40; i < 46; ++i) {
        later.jobs[i].visit.handed_over = "2026-12-01";
        later.jobs[i].week = "2026-W49";
    }
    CHECK(lots(later) == first);
    // 658,008 sets of five can be drawn of forty.
    int same = 0;
    for (int other = 0; other < 8; ++other) {
        auto changed = table;
        changed.jobs[7].visit.handed_by = fmt::format("another {}", other);
        same += lots(changed) == first ? 1 : 0;
    }
    CHECK(same == 0);
    CHECK(week_audit(table, cards, "2026-W48").seed.starts_with("2026-W48/"));
}

TEST_CASE("a job that was not handed over in the week is in no draw") {
    AuditTable table;
    add_jobs(table, "C3", "clay-tile", 0, 9);
    for (std::size_t i = 0; i < 6; ++i) table.jobs[i].visit = {};
    table.jobs[6].visit.handed_over = "2026-11-22";
    const auto week = week_audit(table, cards, "2026-W48");
    CHECK(week.jobs == 9);
    CHECK(week.finished == 2);
    REQUIRE(week.samples.size() == 2);
    for (const auto& row : week.samples) CHECK((row.job == "J-7" || row.job == "J-8"));
}

TEST_CASE("open items age by the last day of the week") {
    AuditTable table;
    add_jobs(table, "C3", "clay-tile", 1, 1);
    table.open.push_back({0, "temp-rise", "Wend", "deferred until 2026-11-20", "2026-11-09"});
    table.open.push_back({0, "ins-ends", "C3", "does not conform", "2026-12-24"});
    const auto week = week_audit(table, cards, "2026-W48");
    REQUIRE(week.open.size() == 1);
    CHECK(week.open[0].age_days == 20);
}

}  // namespace wm::audit
