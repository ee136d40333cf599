// From a tool or a batch to what stands on it.
#include "screens/trace_sheet.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

desk::TraceView some_trace(bool doubted = false) {
    desk::TraceView trace;
    trace.kind = "instrument";
    trace.subject = "PG-4";
    trace.sentence = "2 readings in 1 jobs stand on PG-4.";
    trace.doubted = doubted;
    trace.rows = {{"A-0110", "Upper Sill 3", "Ansa Velmorrin", "test-pressure", "Pressure of the test", "", "480 kPa", "2027-02-01", "conforms", true, "H"},
                  {"A-0110", "Upper Sill 3", "Ansa Velmorrin", "pressure-limit-set", "Pressure limit", "", "310 kPa", "2027-02-08", "conforms", false, "D"}};
    trace.results = 2;
    trace.jobs = {{"A-0110", "Upper Sill 3", "Ansa Velmorrin", "handed over", 2, 1, "Ansa Velmorrin\n\nWe will look at them again.", ""}};
    return trace;
}

void open_sheet(Glass& glass) {
    glass.drafts.screen = Screen::Week;
    glass.world.week->choices.instruments = {{"PG-4", "PG-4"}, {"TW-1", "TW-1"}};
    glass.world.week->choices.batches = {{"relief valve RV-K17", "relief valve RV-K17"}};
}

}  // namespace

TEST_CASE("from the week to what stands on a tool in two touches") {
    Glass glass{1280.0F, 1600.0F, {}};
    open_sheet(glass);
    REQUIRE(glass.press("week/from tool"));
    REQUIRE(glass.press("week/trace/subjects/tools/PG-4"));
    const auto* ask = glass.last<AskTrace>();
    REQUIRE(ask != nullptr);
    CHECK(ask->instrument == "PG-4");
    CHECK(ask->batch.empty());
    (void)glass.frame();
    CHECK(glass.says("It is being looked up."));
    glass.world.trace = some_trace();
    (void)glass.frame();
    CHECK(glass.says("Pressure of the test"));
    CHECK(glass.says("can hurt someone"));
    CHECK(glass.spot("week/trace/answer/A-0110/job").words.find("Ansa Velmorrin, Upper Sill 3") != std::string::npos);
    // By title, never by id.
    CHECK_FALSE(glass.says("test-pressure"));
}

TEST_CASE("an answer about another tool is not shown for this one") {
    Glass glass{1280.0F, 1600.0F, {}};
    open_sheet(glass);
    glass.world.trace = some_trace();
    REQUIRE(glass.press("week/from tool"));
    REQUIRE(glass.press("week/trace/subjects/tools/TW-1"));
    (void)glass.frame();
    CHECK_FALSE(glass.says("Pressure of the test"));
}

TEST_CASE("a house shows its drafted letter, and becomes a visit at a touch") {
    Glass glass{1280.0F, 2400.0F, {}};
    open_sheet(glass);
    glass.drafts.week.trace.is_open = true;
    glass.drafts.week.trace.asked.instrument = "PG-4";
    glass.world.trace = some_trace();
    (void)glass.frame();
    CHECK_FALSE(glass.says("We will look at them again."));
    REQUIRE(glass.press("week/trace/answer/A-0110/letter"));
    (void)glass.frame();
    CHECK(glass.says("We will look at them again."));
    REQUIRE(glass.press("week/trace/answer/A-0110/visit"));
    const auto* visit = glass.last_intent<desk::OpenRevisit>();
    REQUIRE(visit != nullptr);
    CHECK(visit->job == "A-0110");
    REQUIRE(glass.press("week/trace/answer/A-0110/job"));
    const auto* open = glass.last<OpenJobView>();
    REQUIRE(open != nullptr);
    CHECK(open->job == "A-0110");
}

TEST_CASE("a doubt is recorded with the day it began and how it was found, and not without") {
    Glass glass{1280.0F, 2400.0F, {}};
    open_sheet(glass);
    auto& draft = glass.drafts.week.trace;
    draft.is_open = true;
    draft.asked.instrument = "PG-4";
    glass.world.trace = some_trace();
    (void)glass.frame();
    CHECK_FALSE(glass.spot("week/trace/answer/record").enabled);
    draft.why = "It read 35 kPa too high at its calibration.";
    draft.as_found = "35 kPa";
    REQUIRE(glass.press("week/trace/answer/record"));
    const auto* doubt = glass.last_intent<desk::DoubtInstrument>();
    REQUIRE(doubt != nullptr);
    CHECK(doubt->instrument == "PG-4");
    CHECK(doubt->from == "2027-02-01");
    CHECK(doubt->as_found == "35 kPa");
    // What stands on it is asked for again, so that the sheet tells the new state.
    CHECK(glass.last<AskTrace>() != nullptr);
    glass.world.trace = some_trace(true);
    (void)glass.frame();
    CHECK(glass.says("It is on record"));
    CHECK_FALSE(glass.shows("week/trace/answer/record"));
}

TEST_CASE("a later first day is chosen among the days of use, and a batch is doubted as a batch") {
    Glass glass{1280.0F, 2400.0F, {}};
    open_sheet(glass);
    auto& draft = glass.drafts.week.trace;
    draft.is_open = true;
    draft.asked.instrument = "PG-4";
    glass.world.trace = some_trace();
    REQUIRE(glass.press("week/trace/answer/since/2027-02-08"));
    CHECK(glass.last<AskTrace>()->from == "2027-02-08");

    glass.world.trace->kind = "batch";
    glass.world.trace->subject = "relief valve RV-K17";
    glass.world.trace->from.clear();
    draft.asked = {.instrument = "", .from = "", .until = "", .batch = "relief valve RV-K17"};
    draft.why = "Three of five drip.";
    REQUIRE(glass.press("week/trace/answer/record"));
    const auto* doubt = glass.last_intent<desk::DoubtBatch>();
    REQUIRE(doubt != nullptr);
    CHECK(doubt->batch == "relief valve RV-K17");
}
