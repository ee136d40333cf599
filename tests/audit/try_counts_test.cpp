#include "audit/try_counts.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <random>
#include <tuple>

#include "audit/shares.hpp"
#include "units/calendar.hpp"

namespace wm::audit {

namespace {

AuditTable random_table(std::uint64_t seed) {
    std::mt19937_64 random{seed};
    AuditTable table;
    for (std::size_t j = 0; j < 60; ++j) {
        JobCard card;
        card.job = fmt::format("J-{:02}", j);
        card.crew = fmt::format("C{}", random() % 3);
        card.roof = fmt::format("roof {}", random() % 3);
        card.system = fmt::format("system {}", random() % 2);
        card.vulnerable = random() % 3 == 0;
        card.day = units::day_after("2027-01-01", static_cast<int>(random() % 100)).value();
        if (random() % 4 != 0) card.batches["relief valve"] = fmt::format("RV-{}", random() % 3);
        for (const char* check : {"ins-ends", "coll-tilt", "relief-lever", "outlet-temp"})
            table.results.push_back({.job = j, .check = check, .failed = random() % 4 == 0, .inconclusive = false, .corrected = false,
                                     .outcome = "", .day = card.day});
        table.jobs.push_back(card);
    }
    return table;
}

}  // namespace

TEST_CASE("one pass counts what a plain walk over the rows counts") {
    const CountSpan span{20270110, 20270401, 20270301};
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
        CAPTURE(seed);
        const auto table = random_table(seed);
        // By check, what it must be alike in, crew, batch, recent.
        std::map<std::tuple<std::string, std::string, std::string, std::string, bool>, Tally> plain;
        for (const auto& result : table.results) {
            const auto day = day_code(result.day);
            if (day < span.first || day > span.last) continue;
            const auto& job = table.jobs[result.job];
            const auto batch = job.batches.find("relief valve");
            const bool matters = result.check == "relief-lever" && batch != job.batches.end();
            auto& tally = plain[{result.check, stratum_of(job, likeness_of(result.check)), job.crew, matters ? batch->second : "",
                                 day >= span.first_recent}];
            ++tally.tries;
            tally.failed += result.failed ? 1 : 0;
        }
        const Columns columns{table};
        const TryCounts counted{columns, span, seed % 2 == 0 ? Spread::Yes : Spread::No};
        REQUIRE(counted.checks().size() == 4);
        CHECK(columns.names().check.text(counted.checks().front().check) == "coll-tilt");
        std::map<std::string, std::vector<Tally>> ours, theirs;
        for (const auto& counts : counted.checks()) {
            const auto& check = columns.names().check.text(counts.check);
            std::uint32_t failed = 0;
            for (std::size_t i = 0; i < counts.kin->size(); ++i)
                for (const bool recent : {false, true}) {
                    const auto& cell = counts.cells[2 * i + (recent ? 1 : 0)];
                    failed += cell.failed;
                    if (cell.tries == 0) continue;
                    ours[fmt::format("{} {} {}", check, columns.names().crew.text((*counts.kin)[i].crew), recent)].push_back(
                        {cell.failed, cell.tries});
                }
            CHECK(counts.failed.size() == failed);
            for (std::size_t i = 1; i < counts.failed.size(); ++i) CHECK(counts.failed[i - 1].day <= counts.failed[i].day);
        }
        for (const auto& [key, tally] : plain)
            theirs[fmt::format("{} {} {}", std::get<0>(key), std::get<2>(key), std::get<4>(key))].push_back(tally);
        REQUIRE(ours.size() == theirs.size());
        const auto less = [](const Tally& a, const Tally& b) { return a.tries != b.tries ? a.tries < b.tries : a.failed < b.failed; };
        for (auto& [key, tallies] : ours) {
            std::sort(tallies.begin(), tallies.end(), less);
            std::sort(theirs[key].begin(), theirs[key].end(), less);
            CHECK(tallies == theirs[key]);
        }
    }
}

TEST_CASE("counted on all cores or on one, the same cells and the same failures come out in the same order") {
    const CountSpan span{20270110, 20270401, 20270301};
    for (std::uint64_t seed = 1; seed <= 10; ++seed) {
        const Columns columns{random_table(seed)};
        const TryCounts one{columns, span}, all{columns, span, Spread::Yes};
        REQUIRE(one.checks().size() == all.checks().size());
        for (std::size_t c = 0; c < one.checks().size(); ++c) {
            const auto &alone = one.checks()[c], &spread = all.checks()[c];
            CHECK(alone.check == spread.check);
            REQUIRE(alone.cells.size() == spread.cells.size());
            for (std::size_t i = 0; i < alone.cells.size(); ++i) {
                CHECK(alone.cells[i].tries == spread.cells[i].tries);
                CHECK(alone.cells[i].failed == spread.cells[i].failed);
                CHECK(alone.cells[i].first == spread.cells[i].first);
                CHECK(alone.cells[i].last == spread.cells[i].last);
            }
            REQUIRE(alone.failed.size() == spread.failed.size());
            for (std::size_t i = 0; i < alone.failed.size(); ++i) CHECK(alone.failed[i].job == spread.failed[i].job);
        }
    }
}

TEST_CASE("with thousands of roofs and crews, jobs that are alike still come together") {
    // Each pair of roof and crew twice, the second time after all others.
    constexpr int pairs = 3000;
    AuditTable table;
    for (int j = 0; j < 2 * pairs; ++j) {
        JobCard card;
        card.job = fmt::format("J-{:04}", j);
        card.crew = fmt::format("C{}", (j % pairs) * 7 % pairs);
        card.roof = fmt::format("roof {}", j % pairs);
        card.day = "2027-02-01";
        table.results.push_back({.job = static_cast<std::size_t>(j), .check = "coll-tilt", .failed = false, .inconclusive = false, .corrected = false,
                                 .outcome = "", .day = card.day});
        table.jobs.push_back(card);
    }
    const Columns columns{table};
    const TryCounts counted{columns, {20270101, 20271231, 20270101}, Spread::Yes};
    REQUIRE(counted.checks().size() == 1);
    const auto& counts = counted.checks().front();
    CHECK(counts.kin->size() == pairs);
    for (std::size_t i = 0; i < counts.kin->size(); ++i) CHECK(counts.cells[2 * i + 1].tries == 2);
}

}  // namespace wm::audit
