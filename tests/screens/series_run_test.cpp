// Running series as values.
#include "screens/series_run.hpp"

#include <doctest/doctest.h>

using namespace wm::screens;

namespace {

SeriesRun pressure_run() {
    SeriesRun run;
    run.job = "A-0117";
    run.check = "test-hold";
    run.title = "Pressure holds";
    run.started_s = 1000;
    run.every_s = 120;
    run.duration_s = 600;
    return run;
}

}  // namespace

TEST_CASE("ten minutes at two minutes each are six readings") {
    CHECK(planned(pressure_run()) == 6);
}

TEST_CASE(
    "the first reading is due at once, the next one interval later, and late ones count below 0") {
    SeriesRun run = pressure_run();
    CHECK(next_due(run, 1000).in_s == 0);
    run.rows.push_back({0, {"478"}});
    CHECK(next_due(run, 1000).in_s == 120);
    CHECK(next_due(run, 1130).in_s == -10);
    CHECK(next_due(run, 1130).reading == 1);
    while (run.rows.size() < 6) run.rows.push_back({600, {"470"}});
    CHECK(next_due(run, 1700).all_taken);
}

TEST_CASE("a duration that is no multiple of the interval ends with a reading at its end") {
    SeriesRun run = pressure_run();
    run.duration_s = 300;
    CHECK(planned(run) == 4);
    run.rows = {{0, {"1"}}, {120, {"1"}}, {240, {"1"}}};
    CHECK(next_due(run, 1000).in_s == 300);
}

TEST_CASE("a run is entered with times as read, units added, and readings beside it named") {
    SeriesRun run = pressure_run();
    run.rows = {{0, {"480"}}, {120, {"479,5"}}, {243, {"4.79 bar"}}};
    run.extras = {{"water start", "18.2 °C"}, {"water end", ""}};
    CHECK(entered_text(run, {}, "kPa") ==
          "0 min=480 kPa; 2 min=479,5 kPa; 243 s=4.79 bar; water start=18.2 °C");
}

TEST_CASE("channels stand behind the time they were read at") {
    SeriesRun run = pressure_run();
    run.rows = {{0, {"41", "33"}}, {300, {"44", ""}}};
    CHECK(entered_text(run, {"riser", "downcomer"}, "°C") ==
          "0 min: riser=41 °C, downcomer=33 °C; 5 min: riser=44 °C");
}

TEST_CASE("what is written is read back the same") {
    SeriesRun run = pressure_run();
    run.rows = {{0, {"480"}}, {121, {"479,5", ""}}};
    run.extras = {{"water start", "18.2 °C"}};
    const auto back = read_runs(written({run, pressure_run()}));
    REQUIRE(back);
    CHECK(*back == std::vector<SeriesRun>{run, pressure_run()});
}

TEST_CASE("tabs and line feeds in a text cannot break the file") {
    SeriesRun run = pressure_run();
    run.title = "two\nlines\tand tab";
    const auto back = read_runs(written({run}));
    REQUIRE(back);
    CHECK(back->front().title == "two lines and tab");
}

TEST_CASE("a torn file is refused with its line") {
    const auto back = read_runs("run\tA\tb\tc\t1000\t120\t600\nrow\tx\t1\n");
    REQUIRE_FALSE(back);
    CHECK(back.error().where == "running series, line 2");
    CHECK_FALSE(read_runs("row\t0\t1\n"));
    CHECK_FALSE(read_runs("run\tA\tb\tc\t1000\t0\t600\n"));
    // A start that no clock shows.
    CHECK_FALSE(read_runs("run\tJ-1\ttest-hold\tPressure holds\t-9223372036854775800\t120\t600\n"));
}

TEST_CASE("clock words are minutes and seconds, with hours when there are some") {
    CHECK(clock_words(247) == "4:07");
    CHECK(clock_words(0) == "0:00");
    CHECK(clock_words(-5) == "0:00");
    CHECK(clock_words(3750) == "1:02:30");
}

TEST_CASE("the unit of the gauge is kept with the run and stands behind what is typed") {
    SeriesRun run;
    run.job = "J-1";
    run.check = "test-hold";
    run.unit = "bar";
    run.rows = {{0, {"4.6"}}, {120, {"4.6 bar"}}};
    CHECK(entered_text(run, {}, "kPa") == "0 min=4.6 bar; 2 min=4.6 bar");
    CHECK(read_runs(written({run})).value() == std::vector<SeriesRun>{run});
}
