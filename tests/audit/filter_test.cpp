#include "audit/filter.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <random>

namespace wm::audit {

namespace {

AuditTable random_table(std::uint64_t seed) {
    std::mt19937_64 random{seed};
    const auto any = [&](const char* what, unsigned kinds) { return fmt::format("{}{}", what, random() % kinds); };
    AuditTable table;
    for (std::size_t j = 0; j < 50; ++j) {
        JobCard card;
        card.job = fmt::format("J-{:02}", j);
        card.crew = any("C", 3);
        card.street = any("S", 3);
        card.roof = any("R", 2);
        card.kind = any("K", 2);
        card.day = "2027-03-04";
        card.week = "2027-W09";
        card.batches = {{"relief valve", any("B", 3)}, {"fluid", any("B", 2)}};
        for (const char* check : {"ins-ends", "coll-tilt", "test-pressure"}) {
            table.results.push_back({.job = j, .check = check, .failed = random() % 3 == 0, .inconclusive = false, .corrected = false,
                                     .outcome = "conforms", .day = card.day});
            if (random() % 2 == 0)
                table.uses.push_back({.job = j, .check = check, .place = "", .instrument = any("I", 3), .day = card.day, .calibrated = ""});
            if (random() % 5 == 0) table.open.push_back({.job = j, .check = check, .owner = "", .what = "deferred", .since = card.day});
        }
        table.traces.push_back({.job = j, .entries = 1, .hasty = 0, .alike = {}, .photos = {}});
        table.jobs.push_back(card);
    }
    return table;
}

// The same, said row by row.
bool fits(const AuditTable& table, std::size_t j, const std::string& check, const Filter& filter) {
    const auto& job = table.jobs[j];
    const auto is = [](const std::string& wanted, const std::string& there) { return wanted.empty() || wanted == there; };
    if (!is(filter.crew, job.crew) || !is(filter.street, job.street) || !is(filter.roof, job.roof) || !is(filter.kind, job.kind)) return false;
    if (!is(filter.check, check)) return false;
    if (!filter.batch.empty() && std::none_of(job.batches.begin(), job.batches.end(), [&](const auto& part) {
            return part.second == filter.batch || part.first + " " + part.second == filter.batch;
        }))
        return false;
    return filter.instrument.empty() || std::any_of(table.uses.begin(), table.uses.end(), [&](const InstrumentUse& use) {
               return use.job == j && use.check == check && use.instrument == filter.instrument;
           });
}

}  // namespace

TEST_CASE("what waits in a job without any result stays where the job fits, and a complaint not where one check is asked for") {
    auto table = random_table(7);
    JobCard card = table.jobs.front();
    card.job = "J-98";
    card.crew = "C1";
    card.day = card.week = "";
    table.jobs.push_back(card);
    card.job = "J-99";
    table.jobs.push_back(card);
    table.deferrals.push_back({.job = 50, .check = "coll-tilt", .owner = "", .since = "2027-03-04", .until = "2027-03-11", .closed = ""});
    table.complaints.push_back({.job = 51, .complaint = "C-1", .symptom = "wet", .day = "2027-03-04"});
    const auto kept = [&](const Filter& filter) {
        const auto part = table_of(filtered(Columns{table}, filter));
        std::string what;
        for (const auto& row : part.deferrals) what += part.jobs[row.job].job + " ";
        for (const auto& row : part.complaints) what += part.jobs[row.job].job + " ";
        return what;
    };
    CHECK(kept({}) == "J-98 J-99 ");
    CHECK(kept({.crew = "C1"}) == "J-98 J-99 ");
    CHECK(kept({.crew = "C2"}).empty());
    CHECK(kept({.check = "coll-tilt"}) == "J-98 ");
    CHECK(kept({.check = "ins-ends"}).empty());
}

TEST_CASE("a filter keeps the rows that a plain look at each row keeps") {
    for (std::uint64_t seed = 1; seed <= 5; ++seed) {
        const auto table = random_table(seed);
        const Columns all{table};
        for (const Filter& filter : {Filter{}, Filter{.crew = "C1"}, Filter{.check = "coll-tilt"}, Filter{.roof = "R0", .street = "S2"},
                                     Filter{.batch = "B1"}, Filter{.batch = "fluid B1"}, Filter{.instrument = "I2"},
                                     Filter{.crew = "C0", .check = "ins-ends", .instrument = "I0"}, Filter{.kind = "K1"}, Filter{.crew = "C9"}}) {
            const auto kept = table_of(filtered(all, filter));
            std::vector<std::string> ours, plain, open_ours, open_plain;
            for (const auto& row : kept.results) ours.push_back(kept.jobs[row.job].job + row.check);
            for (const auto& row : table.results)
                if (fits(table, row.job, row.check, filter)) plain.push_back(table.jobs[row.job].job + row.check);
            CHECK(ours == plain);
            for (const auto& row : kept.open) open_ours.push_back(kept.jobs[row.job].job + row.check);
            for (const auto& row : table.open)
                if (fits(table, row.job, row.check, filter)) open_plain.push_back(table.jobs[row.job].job + row.check);
            CHECK(open_ours == open_plain);
            CHECK(kept.traces.size() == kept.jobs.size());
            for (std::size_t i = 0; i < kept.traces.size(); ++i) CHECK(kept.traces[i].job == i);
            for (const auto& use : kept.uses) CHECK((filter.instrument.empty() || use.instrument == filter.instrument));
        }
    }
}

TEST_CASE("what can be chosen is listed, and what nobody has is told") {
    const Columns all{random_table(1)};
    const auto choices = choices_of(all);
    CHECK(choices.crews == std::vector<std::string>{"C0", "C1", "C2"});
    CHECK(choices.checks == std::vector<std::string>{"coll-tilt", "ins-ends", "test-pressure"});
    CHECK(choices.batches == std::vector<std::string>{"fluid B0", "fluid B1", "relief valve B0", "relief valve B1", "relief valve B2"});
    CHECK(choices.instruments.size() == 3);
    CHECK(unknown_in(all, {}).empty());
    CHECK(unknown_in(all, {.crew = "C1", .batch = "relief valve B2"}).empty());
    CHECK(unknown_in(all, {.crew = "C1", .roof = "R9"}) == "roof R9");
    CHECK(unknown_in(all, {.batch = "B9"}) == "batch B9");
}

}  // namespace wm::audit
