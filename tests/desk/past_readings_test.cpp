#include "desk/past_readings.hpp"

#include "desk/replay.hpp"
#include "desk/testing.hpp"

namespace wm::desk {

using testing::Bench;
using testing::many_jobs;

namespace {

std::map<std::string, audit::PastJob> looked(Desk& desk) {
    const auto look = past_readings(desk);
    REQUIRE_MESSAGE(look, (look ? "" : told(look.error())));
    std::map<std::string, audit::PastJob> jobs;
    for (std::size_t job = 0; job < look->readings.job_count(); ++job) jobs.emplace(look->readings.number(job), look->readings.job(job));
    return jobs;
}

std::size_t made_anew(Desk& desk) {
    const auto look = past_readings(desk);
    REQUIRE(look);
    return look->made_anew;
}

}  // namespace

TEST_CASE("a reading that counts is there with its tool, one undone or set aside is not") {
    Bench bench;
    bench.enter("coll-tilt", "41°");
    bench.correct("coll-tilt", "35°", "Moved the legs");
    bench.enter("anchor-torque", "20 N·m", "1");
    auto jobs = looked(bench.desk());
    REQUIRE(jobs.size() == 1);
    const auto& job = jobs.at(bench.job);
    CHECK(job.checklist == "commissioning");
    CHECK(job.pin.size() == 64);
    REQUIRE(job.readings.size() == 3);
    CHECK(job.readings[0].check == "anchor-torque");
    CHECK(job.readings[0].place == "1");
    CHECK(card_of(job.readings[0].instrument).id == "TW-1");
    CHECK(job.readings[1].was == measure::Outcome::DoesNotConform);
    CHECK(job.readings[2].text == "35°");
    CHECK(job.readings[2].entry.size() == 64);

    bench.enter("tank-level", "0.2°");
    CHECK(looked(bench.desk()).at(bench.job).readings.size() == 4);
    REQUIRE(bench.desk().carry_out(UndoLast{bench.job}));
    CHECK(looked(bench.desk()).at(bench.job).readings.size() == 3);
    REQUIRE(bench.desk().carry_out(DoubtInstrument{"TW-1", "2026-11-01", "", "", "It fell.", ""}));
    jobs = looked(bench.desk());
    REQUIRE(jobs.at(bench.job).readings.size() == 2);
    CHECK(jobs.at(bench.job).readings[0].check == "coll-tilt");
}

TEST_CASE("a card comes back from its text, whatever stands in its fields") {
    const record::InstrumentRegistered card{"TW-1", "torque wrench", "5 to 50 N·m", "0.5 N·m", "", "2026-06-30", "2027-06-30", "C 17", "", "passed"};
    CHECK(card_of(card_text(card)) == card);
    CHECK(card_of("") == record::InstrumentRegistered{});
}

TEST_CASE("only what changed since it was kept is folded again, and a reader keeps nothing") {
    Bench bench;
    many_jobs(bench, 20);
    const auto before = looked(bench.desk());
    CHECK(made_anew(bench.desk()) == 0);
    bench.enter("anchor-torque", "20 N·m", "1");
    CHECK(made_anew(bench.desk()) == 1);
    CHECK(looked(bench.desk()).at(bench.job).readings.size() == 1);
    bench.close();

    auto setup = testing::setup_in(bench.data(), bench.clock, "again");
    setup.access = Access::Read;
    auto reader = Desk::open(setup);
    REQUIRE(reader);
    auto look = past_readings(*reader);
    REQUIRE(look);
    CHECK(look->made_anew == 1);
    REQUIRE(reader->journal().cache("past readings"));

    auto writer = Desk::open(testing::setup_in(bench.data(), bench.clock, "writer"));
    REQUIRE(writer);
    REQUIRE(keep_past(writer->journal(), look->readings));
    CHECK(made_anew(*reader) == 0);
    // An erasure throws them away, for the texts may be a person's.
    REQUIRE(writer->erase_customer(bench.job));
    CHECK_FALSE(writer->journal().cache("past readings"));
    CHECK_FALSE(writer->journal().cache("entries of past readings"));
}

TEST_CASE("hashes kept apart are found again for the readings that flip, and not mixed with those of another look") {
    Bench bench;
    many_jobs(bench, 20);
    REQUIRE(past_readings(bench.desk()));
    auto look = past_readings(bench.desk());
    REQUIRE(look);
    CHECK(look->made_anew == 0);
    CHECK_FALSE(look->readings.has_entries());
    REQUIRE(with_entries(bench.desk(), look->readings));
    const auto states = bench.desk().all_states();
    REQUIRE(states);
    for (const auto& state : *states) {
        if (!state.check("coll-tilt")) continue;
        const auto jobs = looked(bench.desk());
        for (std::size_t job = 0; job < look->readings.job_count(); ++job)
            if (look->readings.number(job) == state.number)
                CHECK(look->readings.entry(look->readings.readings_of(job).first) == state.check("coll-tilt")->readings[0].origin.entry);
    }
    // One of the two was replaced by another program: nothing is guessed.
    auto kept = bench.desk().journal().cache("entries of past readings");
    REQUIRE(kept);
    kept->made_from = "readings 1 other";
    REQUIRE(bench.desk().journal().put_cache("entries of past readings", *kept));
    auto again = past_readings(bench.desk());
    REQUIRE(again);
    CHECK_FALSE(with_entries(bench.desk(), again->readings));
    bench.enter("anchor-torque", "20 N·m", "1");
    CHECK(made_anew(bench.desk()) == 21);
}

}  // namespace wm::desk
