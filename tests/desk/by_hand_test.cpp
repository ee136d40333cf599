#include "desk/by_hand.hpp"

#include "desk/clock_questions.hpp"
#include "desk/persons_at_desk.hpp"
#include "desk/report_words.hpp"
#include "desk/testing.hpp"
#include "desk/week.hpp"

namespace wm::desk {

using testing::Bench;
using testing::house_facts;
using testing::tools;

namespace {

Setup given_by_hand(Setup setup) {
    setup.time_source = record::TimeSource::Hand;
    return setup;
}

std::vector<std::string> asked_in_week(Desk& desk) {
    const auto week = week_view(desk, "2026-W48", {});
    REQUIRE(week);
    std::vector<std::string> sentences;
    for (const auto& question : week->questions) sentences.push_back(question.sentence);
    return sentences;
}

}  // namespace

TEST_CASE("readings under a time given by hand are told from those that a clock timed, in job, record and week") {
    Bench bench;
    const auto by_clock = bench.desk().setup();
    bench.enter("coll-tilt", "35°");
    const auto other = bench.desk().carry_out(OpenJob{"commissioning", house_facts(tools()), "f", "", false});
    REQUIRE(other);
    CHECK(bench.view().times.empty());
    CHECK(bench.view().times_by_hand == 0);

    bench.open_again(given_by_hand(by_clock));
    REQUIRE(bench.desk().job_view(*other));  // looked at before anything is told
    REQUIRE(bench.desk().job_view(bench.job));
    // A job that is opened so is so from its first entry on, also for who wrote it.
    const auto third = bench.desk().carry_out(OpenJob{"commissioning", house_facts(tools()), "f", "", false});
    REQUIRE(third);
    const auto opened = bench.desk().job_view(*third)->times_by_hand;
    CHECK(opened == static_cast<int>(bench.desk().in_hand(*third)->state().entries));
    bench.enter("coll-tilt", "36°");
    auto reading = bench.reading("coll-tilt", "34°");
    reading.job = *other;
    bench.take(reading);
    CHECK(bench.view().times_by_hand == 1);
    const auto entries = bench.desk().in_hand(bench.job)->state().entries;
    CHECK(bench.view().times == std::vector{"Times given by hand, not read from a clock: 1 of the " + std::to_string(entries) + " entries of this job."});
    CHECK_FALSE(bench.check("coll-tilt").readings[0].time_by_hand);
    CHECK(bench.check("coll-tilt").readings[1].time_by_hand);
    CHECK(bench.desk().job_view(*other)->times_by_hand == 1);

    const auto asked = asked_in_week(bench.desk());
    REQUIRE(asked.size() == 1);
    CHECK(asked.front().find("had its times given by hand from 2026-11-25T04:") != std::string::npos);

    bench.open_again(by_clock);
    bench.enter("coll-tilt", "35°");
    CHECK(bench.view().times_by_hand == 1);
    CHECK_FALSE(bench.check("coll-tilt").readings[2].time_by_hand);
    CHECK(asked_in_week(bench.desk()) == asked);
}

TEST_CASE("a device that never read a clock says so in its jobs, and its weeks ask nothing") {
    testing::Folder folder;
    const testing::Clock clock;
    auto desk = Desk::open(given_by_hand(testing::setup_in(folder.path(), clock)));
    REQUIRE(desk);
    const auto job = desk->carry_out(OpenJob{"commissioning", house_facts(tools()), "f", "", false});
    REQUIRE(job);
    REQUIRE(desk->carry_out(testing::ladder(*job)));
    const auto view = desk->job_view(*job);
    REQUIRE(view);
    CHECK(view->times_by_hand == static_cast<int>(desk->in_hand(*job)->state().entries));
    CHECK(view->questions.empty());
    CHECK(asked_in_week(*desk).empty());
}

TEST_CASE("a reading that bears another time than its entry says when it was entered") {
    Bench bench;
    bench.enter("coll-tilt", "35°");
    auto reading = bench.reading("coll-tilt", "36°");
    reading.read_at = "2026-11-25T08:51:00+05:00";
    bench.take(reading);
    CHECK(bench.view().times.empty());  // within what stamps may lead a clock by
    reading.read_at = "2026-11-24T09:00:00+05:00";
    bench.take(reading);
    const auto readings = bench.check("coll-tilt").readings;
    CHECK(readings[1].entered_at.empty());
    CHECK(readings[2].at == "2026-11-24T09:00:00+05:00");
    CHECK(readings[2].entered_at.starts_with("2026-11-25T09:00:"));
    CHECK(bench.view().times ==
          std::vector<std::string>{"Readings that bear a time more than ten minutes away from when they were entered: 1 of 3."});
}

TEST_CASE("the report says it in its record, once") {
    Bench bench;
    bench.open_again(given_by_hand(bench.desk().setup()));
    bench.enter("coll-tilt", "35°");
    const auto hand = bench.desk().in_hand(bench.job);
    REQUIRE(hand);
    handover::ReportInput input;
    fill_page_one(input, *hand, bench.view(), {});
    REQUIRE(input.record_notes.size() == 1);
    CHECK(input.record_notes.front().starts_with("Times given by hand, not read from a clock: 1 of the "));
    CHECK(input.page_one.questions.empty());
}

}  // namespace wm::desk
