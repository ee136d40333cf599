// Jobs.
#include "screens/jobs_screen.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("a touched job is asked for and the run waits for it") {
    Glass glass{1280.0F, 800.0F, {}};
    REQUIRE(glass.press("jobs/list/A-0116"));
    const auto* open = glass.last<OpenJobView>();
    REQUIRE(open != nullptr);
    CHECK(open->job == "A-0116");
    CHECK(glass.drafts.screen == Screen::Run);
    CHECK(glass.says("Opening job A-0116"));
}

TEST_CASE("search finds all words in any order, upper and lower case alike") {
    const desk::JobRow row = testing::sample_world().jobs[0];
    CHECK(matches(row, ""));
    CHECK(matches(row, "imber KETTLE"));
    CHECK(matches(row, "brambl 0117"));
    CHECK_FALSE(matches(row, "imber dovetail"));
}

TEST_CASE("the list follows the search as it is typed") {
    Glass glass{1280.0F, 800.0F, {}};
    REQUIRE(glass.press("jobs/search"));
    glass.type("dovetail");
    CHECK(glass.shows("jobs/list/A-0109"));
    CHECK_FALSE(glass.shows("jobs/list/A-0117"));
}

TEST_CASE("a job whose day is today stands with today's work, and its day is told") {
    Glass glass{1280.0F, 800.0F, {}};
    auto& row = glass.world.jobs.front();
    row.state = "open";
    row.due.clear();
    row.started = "2020-01-01T08:00:00+00:00";
    row.day = glass.world.moment.now.substr(0, 10);
    ++glass.world.jobs_look;
    (void)glass.frame();
    (void)glass.frame();
    CHECK(std::any_of(glass.probe.letters.begin(), glass.probe.letters.end(),
                      [&](const Lettering& one) { return one.words.find("on " + row.day) != std::string::npos; }));
    CHECK(glass.drafts.jobs.found.rows[0].size() >= 1);
    const auto& today = glass.drafts.jobs.found.rows[0];
    CHECK(std::find(today.begin(), today.end(), 0U) != today.end());
}

TEST_CASE("a new job needs a checklist and a facts file") {
    Glass glass{1280.0F, 800.0F, {}};
    REQUIRE(glass.press("jobs/new job"));
    (void)glass.frame();
    CHECK_FALSE(glass.spot("jobs/new/start").enabled);
    REQUIRE(glass.press("jobs/new/commissioning"));
    REQUIRE(glass.press("jobs/new/facts/facts/kettlemark-row-12.toml"));
    REQUIRE(glass.press("jobs/new/practice"));
    REQUIRE(glass.press("jobs/new/start"));
    const auto* start = glass.last<StartJob>();
    REQUIRE(start != nullptr);
    CHECK(start->checklist == "commissioning");
    CHECK(start->facts_path == "facts/kettlemark-row-12.toml");
    CHECK(start->practice);
}

TEST_CASE("the window goes to a new job as soon as it is open") {
    Glass glass{1280.0F, 800.0F, {}};
    REQUIRE(glass.press("jobs/new job"));
    REQUIRE(glass.press("jobs/new/kit"));
    REQUIRE(glass.press("jobs/new/facts/A-0116"));
    REQUIRE(glass.press("jobs/new/start"));
    CHECK(glass.drafts.screen == Screen::Jobs);
    glass.world.job->row.job = "A-0118";
    (void)glass.frame();
    CHECK(glass.drafts.screen == Screen::Run);
}

namespace {

/// So many jobs of one kind, handed over, the last of them the newest.
void fill(Glass& glass, int count) {
    const auto pattern = glass.world.jobs[0];
    glass.world.jobs.clear();
    for (int i = 0; i < count; ++i) {
        auto row = pattern;
        row.job = fmt::format("B-{:05}", i);
        row.started = fmt::format("2020-01-01T{:02}:{:02}:{:02}+00:00", i / 3600, i / 60 % 60, i % 60);
        row.state = "handed over";
        glass.world.jobs.push_back(row);
    }
    ++glass.world.jobs_look;
    (void)glass.frame();
    (void)glass.frame();
}

}  // namespace

TEST_CASE("of ten thousand jobs a frame draws what is near, and each can be found") {
    Glass glass{1280.0F, 800.0F, {}};
    fill(glass, 10'000);
    CHECK(glass.probe.spots.size() < 200);
    CHECK(glass.shows("jobs/list/B-09999"));  // the newest stands first
    CHECK_FALSE(glass.shows("jobs/list/B-00007"));
    REQUIRE(glass.press("jobs/search"));
    glass.type("b-00007");
    CHECK(glass.shows("jobs/list/B-00007"));
    CHECK_FALSE(glass.shows("jobs/list/B-09999"));
    // A row that changes while the search stands leaves the list.
    glass.world.jobs[7].job = "C-1";
    ++glass.world.jobs_look;
    (void)glass.frame();
    CHECK_FALSE(glass.shows("jobs/list/C-1"));
}

TEST_CASE("the keyboard walks down a list that is longer than the screen") {
    Glass glass{1280.0F, 800.0F, {}};
    fill(glass, 60);
    for (int i = 0; i < 100 && glass.drafts.attention.at != "jobs/list/B-00010"; ++i) glass.strike(GLFW_KEY_TAB);
    REQUIRE(glass.drafts.attention.at == "jobs/list/B-00010");
    glass.strike(GLFW_KEY_ENTER);
    const auto* open = glass.last<OpenJobView>();
    REQUIRE(open != nullptr);
    CHECK(open->job == "B-00010");
}

TEST_CASE("where no job is yet, one key starts the list to try the tool with, as practice and without a house") {
    Glass glass{1280.0F, 800.0F, {}};
    CHECK_FALSE(glass.press("jobs/list/try it"));
    glass.world.jobs.clear();
    ++glass.world.jobs_look;
    REQUIRE(glass.press("jobs/list/try it"));
    const auto* start = glass.last<StartJob>();
    REQUIRE(start != nullptr);
    CHECK(start->checklist == "tutorial");
    CHECK(start->facts_path.empty());
    CHECK(start->practice);
}

TEST_CASE("the tutorial needs no facts under New job, and cannot be made a real job") {
    Glass glass{1280.0F, 800.0F, {}};
    REQUIRE(glass.press("jobs/new job"));
    REQUIRE(glass.press("jobs/new/tutorial"));
    CHECK(glass.spot("jobs/new/practice").words == "Practice: not counted");
    REQUIRE(glass.press("jobs/new/start"));
    const auto* start = glass.last<StartJob>();
    REQUIRE(start != nullptr);
    CHECK(start->practice);
}
