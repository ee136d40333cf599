// Header, problem strip, wipe lock.
#include "screens/frame.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("a problem is shown in full until it is understood") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.problem = Problem{"The reading was not saved: the disk is full.", "data/journal",
                                  "Free some space, then save again."};
    (void)glass.frame();
    CHECK(glass.says("The reading was not saved: the disk is full."));
    CHECK(glass.says("Free some space, then save again."));
    CHECK(glass.says("data/journal"));
    REQUIRE(glass.press("problem/understood"));
    CHECK(glass.last<ProblemUnderstood>() != nullptr);
}

TEST_CASE("the saved mark is shown only when nothing waits for the disk") {
    Glass glass{1280.0F, 800.0F, {}};
    (void)glass.frame();
    CHECK(glass.says("saved 09:09:41"));
    glass.world.saving = true;
    (void)glass.frame();
    CHECK_FALSE(glass.says("saved 09:09:41"));
}

TEST_CASE("under the wipe lock no key and no typing enters anything") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    REQUIRE(glass.press("header/lock"));
    CHECK(glass.drafts.locked);
    glass.all.clear();
    glass.type("y");
    CHECK_FALSE(glass.shows("run/check/yes"));
    CHECK(glass.all.empty());
}

TEST_CASE("the lock opens by holding, not by a touch in passing") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.locked = true;
    REQUIRE(glass.press("locked/hold"));
    CHECK(glass.drafts.locked);
    const Rect hold = glass.spot("locked/hold").rect;
    glass.put_finger(hold.x + 20.0F, hold.y + 20.0F);
    for (int i = 0; i < 100; ++i) (void)glass.frame();
    glass.lift_finger();
    CHECK_FALSE(glass.drafts.locked);
}

TEST_CASE("Ctrl+L locks and unlocks") {
    Glass glass{1280.0F, 800.0F, {}};
    (void)glass.frame();
    ImGui::GetIO().KeyCtrl = true;
    glass.strike(GLFW_KEY_L);
    CHECK(glass.drafts.locked);
    glass.strike(GLFW_KEY_L);
    CHECK_FALSE(glass.drafts.locked);
}

TEST_CASE("a number half typed when the window ended stands there again, once") {
    KeptNumber before;
    {
        Glass glass{1280.0F, 800.0F, {}};
        glass.open_check("anchor-torque");
        glass.type("19.");
        const auto* kept = glass.last<KeepNumber>();
        REQUIRE(kept != nullptr);
        const auto back = read_number_kept(written(kept->number));
        REQUIRE(back);
        CHECK(*back == kept->number);
        before = *back;
    }
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.run.from_before = before;
    glass.open_check("fall-protection");
    CHECK(glass.drafts.run.value.empty());
    glass.open_check("anchor-torque");
    CHECK(glass.drafts.run.value == "19.");
    // The other check was kept in its place meanwhile.
    CHECK(glass.last<KeepNumber>()->number.value == "19.");
    CHECK(glass.drafts.run.place == "2");
    CHECK(glass.says("NOT saved"));
    // Digits put behind what was typed before would make a number nobody read.
    glass.type("2");
    CHECK(glass.drafts.run.value == "2");
    glass.open_check("fall-protection");
    CHECK(glass.last<KeepNumber>()->number.value.empty());
    glass.open_check("anchor-torque");
    CHECK(glass.drafts.run.value == "2");
}

TEST_CASE("a kept number that is torn or no number is left alone") {
    CHECK_FALSE(read_number_kept(""));
    CHECK_FALSE(read_number_kept("A-1\tcheck\t\t19.5\t\tTW-1"));
    CHECK_FALSE(read_number_kept("A-1\tcheck\t\trm -r\t\t\n"));
    CHECK(read_number_kept("A-1\tcheck\t\t19.5\t\tTW-1\n"));
    CHECK(read_number_kept("A-1\tcheck\t\t19.5\t\tTW-1\treading\n"));
    const KeptNumber whole{"A-1", "check", "2", "19.5", "bar", "TW-1", "correcting", {{"done", "packed the foot"}}};
    CHECK(read_number_kept(written(whole)) == whole);
    const KeptNumber form{"A-1", "check", "", "", "", "", "deferring", {{"owner", "Mara Tessol"}, {"why", "rain"}}};
    CHECK(read_number_kept(written(form)) == form);
    CHECK_FALSE(read_number_kept("A-1\tcheck\t\t\t\t\tdreaming\twhy\train\n"));
    CHECK_FALSE(read_number_kept("A-1\tcheck\t\t\t\t\tdeferring\twhy\train\towner\n"));
    CHECK_FALSE(read_number_kept("A-1\tcheck\t\t19\t\tTW-1\tcorrecting\tpacked\rit\n"));
    // As versions before wrote it.
    CHECK(read_number_kept("A-1\tcheck\t2\t19.5\tbar\tTW-1\tcorrecting\tpacked the foot\n") == whole);
}

TEST_CASE("the glass may be turned and widened at any moment and keeps what is typed") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = 3.78F}};
    glass.open_check("anchor-torque");
    glass.type("19.5");
    const std::pair<float, float> sizes[] = {{800, 1280}, {1280, 800}, {640, 480}, {2560, 1600}, {340, 1000}, {800, 600}};
    for (const auto& [w, h] : sizes) {
        ImGui::GetIO().DisplaySize = {w, h};
        glass.dress.metrics = fitted({.px_per_mm = 3.78F}, w, h);
        for (const RunMode mode : {RunMode::Stages, RunMode::Plant, RunMode::Reading}) {
            glass.drafts.run.mode = mode;
            (void)glass.frame();
            (void)glass.frame();
            CHECK(glass.probe.twice.empty());
        }
        CHECK(glass.drafts.run.value == "19.5");
        CHECK(glass.shows("run/check/keypad/7"));
    }
}

TEST_CASE("the week is asked for when it is first opened") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.week.reset();
    REQUIRE(glass.press("header/week"));
    CHECK(glass.last<AskWeek>() != nullptr);
}

TEST_CASE("an untouched window asks for nothing") {
    Glass glass{1280.0F, 800.0F, {}};
    for (const Screen screen : {Screen::Jobs, Screen::Run, Screen::SignOff, Screen::Outbox,
                                Screen::Week, Screen::Settings}) {
        glass.drafts.screen = screen;
        // Once: at which check the person is.
        for (const Request& request : glass.frame()) CHECK(std::holds_alternative<KeepNumber>(request));
        for (int i = 0; i < 5; ++i) CHECK(glass.frame().empty());
    }
}

TEST_CASE("the window comes back to the job that was open, if it still is") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job.reset();
    glass.world.listed = false;
    glass.drafts.resume = "A-0117";
    (void)glass.frame();
    CHECK(glass.drafts.screen == Screen::Jobs);  // the list is not read yet
    glass.world.listed = true;
    (void)glass.frame();
    CHECK(glass.drafts.screen == Screen::Run);
    REQUIRE(glass.last<OpenJobView>() != nullptr);
    CHECK(glass.last<OpenJobView>()->job == "A-0117");

    for (const char* other : {"A-0109", "B-0001"}) {  // handed over; not on this device
        CAPTURE(other);
        glass.all.clear();
        glass.drafts.screen = Screen::Jobs;
        glass.drafts.resume = other;
        (void)glass.frame();
        CHECK(glass.drafts.screen == Screen::Jobs);
        CHECK(glass.last<OpenJobView>() == nullptr);
    }

    glass.drafts.resume = "A-0117";
    glass.drafts.jobs.search = "sill";  // somebody was quicker
    (void)glass.frame();
    CHECK(glass.drafts.screen == Screen::Jobs);
}

TEST_CASE("a correction half written when the window ended is one again, at its check") {
    KeptNumber before;
    {
        Glass glass{1280.0F, 800.0F, {}};
        for (auto& check : glass.world.job->checks)
            if (check.id == "test-pressure") check.outcome = measure::Outcome::DoesNotConform;
        glass.open_check("test-pressure");
        // Where the person is, is kept before anything is typed.
        REQUIRE(glass.last<KeepNumber>() != nullptr);
        CHECK(glass.last<KeepNumber>()->number.check == "test-pressure");
        REQUIRE(glass.press("run/corrected"));
        glass.drafts.run.done = "packed the left foot";
        glass.type("455");
        before = glass.last<KeepNumber>()->number;
        CHECK(before.form == "correcting");
        CHECK(before.value == "455");
    }
    Glass glass{1280.0F, 800.0F, {}};
    for (auto& check : glass.world.job->checks)
        if (check.id == "test-pressure") check.outcome = measure::Outcome::DoesNotConform;
    glass.drafts.run.from_before = *read_number_kept(written(before));
    glass.open_check("test-pressure");
    CHECK(glass.drafts.run.mode == RunMode::Correcting);
    CHECK(glass.drafts.run.done == "packed the left foot");
    CHECK(glass.drafts.run.value == "455");
    // A job that is closed is not come back to.
    glass.drafts.run.value.clear();
    glass.drafts.run.mode = RunMode::Reading;
    glass.world.job->row.state = "handed over";
    (void)glass.frame();
    CHECK(glass.last<KeepNumber>()->number.job.empty());
}

TEST_CASE("words half written when the window ended stand there again, in the form they were written in") {
    KeptNumber before;
    {
        Glass glass{1280.0F, 800.0F, {}};
        glass.open_check("anchor-torque");
        glass.drafts.run.mode = RunMode::Deferring;
        glass.drafts.run.defer.why = "rain since\tnoon";
        glass.drafts.run.defer.owner = "Mara Tessol";
        (void)glass.frame();
        REQUIRE(glass.last<KeepNumber>() != nullptr);
        before = glass.last<KeepNumber>()->number;
        CHECK(before.form == "deferring");
    }
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.run.from_before = *read_number_kept(written(before));
    glass.open_check("anchor-torque");
    CHECK(glass.drafts.run.mode == RunMode::Deferring);
    CHECK(glass.drafts.run.defer.why == "rain since noon");
    CHECK(glass.drafts.run.defer.owner == "Mara Tessol");
    // Once it is given up, nothing of it is kept.
    glass.drafts.run.mode = RunMode::Reading;
    (void)glass.frame();
    CHECK(glass.last<KeepNumber>()->number.words.empty());
}
