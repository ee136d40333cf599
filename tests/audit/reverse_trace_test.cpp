#include "audit/reverse_trace.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <random>

#include "units/calendar.hpp"

namespace wm::audit {

namespace {

// Readings at random, from a seed; the calibration day is sometimes unknown.
AuditTable random_table(std::uint64_t seed, int jobs) {
    std::mt19937_64 random{seed};
    AuditTable table;
    for (int j = 0; j < jobs; ++j) {
        JobCard card;
        card.job = fmt::format("J-{}", j);
        card.day = units::day_after("2027-01-01", static_cast<int>(random() % 200)).value();
        card.batches = {{"relief valve", fmt::format("RV-K{}", random() % 5)}, {"fluid", fmt::format("RV-K{}", random() % 3)}};
        for (int r = 0; r < 6; ++r)
            table.uses.push_back({.job = table.jobs.size(), .check = "coll-tilt", .place = fmt::format("{}", r),
                                  .instrument = fmt::format("PG-{}", random() % 4), .day = card.day,
                                  .calibrated = random() % 2 == 0 ? "" : units::day_after("2027-01-01", static_cast<int>(random() % 200)).value(),
                                  .is_evidence = true});
        table.jobs.push_back(card);
    }
    return table;
}

}  // namespace

TEST_CASE("the index finds what a plain walk over every reading finds") {
    for (std::uint64_t seed = 1; seed <= 20; ++seed) {
        const auto table = random_table(seed, 60);
        const Columns columns{table};
        const ReverseIndex index{columns};
        for (const auto& asked : {InstrumentDays{"PG-1", "2027-02-10", "2027-05-01"}, InstrumentDays{"PG-2", "2027-02-10", ""},
                                  InstrumentDays{"PG-3", "2026-01-01", ""}, InstrumentDays{"PG-9", "2026-01-01", ""}}) {
            std::vector<std::size_t> plain;
            for (std::size_t i = 0; i < table.uses.size(); ++i) {
                const auto& use = table.uses[i];
                if (use.instrument != asked.instrument || use.day < asked.from) continue;
                if (!asked.until.empty() && use.day > asked.until) continue;
                if (asked.until.empty() && use.calibrated > asked.from && use.calibrated <= use.day) continue;
                plain.push_back(i);
            }
            auto found = index.uses_of(asked);
            CHECK(std::is_sorted(found.begin(), found.end(), [&](std::size_t a, std::size_t b) {
                return table.uses[a].day < table.uses[b].day;
            }));
            std::sort(found.begin(), found.end());
            CHECK(found == plain);
        }
        std::size_t with = 0;
        for (const auto& job : table.jobs) with += job.batches.at("relief valve") == "RV-K2" ? 1U : 0U;
        CHECK(index.jobs_with("relief valve RV-K2").size() == with);
        for (const auto& job : table.jobs) with += job.batches.at("fluid") == "RV-K2" ? 1U : 0U;
        CHECK(index.jobs_with("RV-K2").size() == with);
        CHECK(index.jobs_with("RV-K77").empty());
    }
}

TEST_CASE("instruments and batches are listed by name") {
    const Columns columns{random_table(3, 60)};
    const ReverseIndex index{columns};
    CHECK(index.instruments() == std::vector<std::string>{"PG-0", "PG-1", "PG-2", "PG-3"});
    CHECK(index.batches().size() == 8);
    CHECK(index.batches().front() == "fluid RV-K0");
}

}  // namespace wm::audit
