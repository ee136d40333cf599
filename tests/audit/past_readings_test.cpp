#include "audit/past_readings.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <random>

namespace wm::audit {

namespace {

PastJob random_job(std::mt19937_64& random, const std::string& number) {
    const auto any = [&](const char* what, unsigned kinds) { return fmt::format("{}{}", what, random() % kinds); };
    PastJob job{.job = number, .checklist = any("list ", 2), .pin = any("pin ", 3), .made_after = any("entry ", 1000), .practice = random() % 9 == 0,
                .facts = {{"site.t_min_c", any("-", 5)}, {"crew.lead", any("crew ", 4)}}, .readings = {}};
    const auto readings = random() % 6;
    for (std::uint64_t i = 0; i < readings; ++i)
        job.readings.push_back({.check = any("check ", 4), .place = any("", 3), .text = any("", 40), .day = fmt::format("2027-01-{:02}", 1 + random() % 28),
                                .instrument = random() % 2 == 0 ? "" : any("TW-", 3), .photo = random() % 3 == 0,
                                .was = static_cast<measure::Outcome>(random() % 6), .entry = fmt::format("{:064x}", random())});
    return job;
}

std::map<std::string, PastJob> back(const PastReadings& readings) {
    std::map<std::string, PastJob> jobs;
    for (std::size_t job = 0; job < readings.job_count(); ++job) jobs.emplace(readings.number(job), readings.job(job));
    return jobs;
}

}  // namespace

TEST_CASE("jobs put in one after the other or anew come back as they were last put, by number") {
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        CAPTURE(seed);
        std::mt19937_64 random{seed};
        std::map<std::string, PastJob> wanted;
        PastReadings readings;
        for (int round = 0; round < 12; ++round) {
            std::map<std::string, PastJob> fresh;
            for (std::uint64_t i = random() % 5; i > 0; --i) {
                const auto number = fmt::format("J-{}", random() % 15);
                fresh.insert_or_assign(number, random_job(random, number));
            }
            for (const auto& [number, job] : fresh) wanted.insert_or_assign(number, job);
            readings = std::move(readings).with(fresh);
            REQUIRE(back(readings) == wanted);
        }
        std::size_t rows = 0;
        for (const auto& [number, job] : wanted) rows += job.readings.size();
        CHECK(readings.reading_count() == rows);
    }
}

TEST_CASE("kept and read again they are the same, with the hashes or before them") {
    std::mt19937_64 random{7};
    std::map<std::string, PastJob> jobs;
    for (int i = 0; i < 20; ++i) jobs.emplace(fmt::format("J-{:02}", i), random_job(random, fmt::format("J-{:02}", i)));
    const auto all = PastReadings{}.with(jobs);
    auto again = PastReadings::read_kept(all.kept());
    REQUIRE(again);
    CHECK_FALSE(again->has_entries());
    CHECK(again->entry(0).empty());
    CHECK_FALSE(again->take_entries(all.kept_entries().substr(1)));
    CHECK_FALSE(again->has_entries());
    REQUIRE(again->take_entries(all.kept_entries()));
    CHECK(back(*again) == jobs);
}

TEST_CASE("what was cut short, made longer or spoilt is not believed, or reads as another sound table") {
    std::mt19937_64 random{11};
    std::map<std::string, PastJob> jobs;
    for (int i = 0; i < 6; ++i) jobs.emplace(fmt::format("J-{}", i), random_job(random, fmt::format("J-{}", i)));
    const auto bytes = PastReadings{}.with(jobs).kept();
    for (std::size_t length = 0; length < bytes.size(); ++length) CHECK_FALSE(PastReadings::read_kept(bytes.substr(0, length)));
    CHECK_FALSE(PastReadings::read_kept(bytes + '\0'));
    for (std::size_t at = 0; at < bytes.size(); ++at) {
        auto spoilt = bytes;
        spoilt[at] = static_cast<char>(spoilt[at] ^ static_cast<char>(1U << (random() % 8)));
        // Whatever is believed can be asked to its end: the sanitizers look.
        if (const auto read = PastReadings::read_kept(spoilt)) CHECK(back(*read).size() <= jobs.size());
    }
}

}  // namespace wm::audit
