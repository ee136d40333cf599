// Series on the glass.
#include "screens/series_panel.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

void start(Glass& glass) {
    glass.open_check("test-hold");
    REQUIRE(glass.press("run/check/series/start"));
}

}  // namespace

TEST_CASE("starting a series keeps it at once") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    const auto* kept = glass.last<KeepSeries>();
    REQUIRE(kept != nullptr);
    REQUIRE(kept->runs.size() == 1);
    CHECK(kept->runs[0].check == "test-hold");
    CHECK(kept->runs[0].started_s == glass.world.moment.epoch_s);
}

TEST_CASE("readings are stamped with the time they were typed and saved as one text") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    glass.type("478");
    glass.strike(GLFW_KEY_ENTER);
    glass.world.moment.epoch_s += 120;
    glass.type("477");
    glass.strike(GLFW_KEY_ENTER);
    // It ends before its time only for whoever says so twice.
    REQUIRE(glass.press("run/check/series/finish"));
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    CHECK(glass.drafts.series.size() == 1);
    REQUIRE(glass.press("run/check/series/finish"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->check == "test-hold");
    CHECK(reading->text == "0 min=478 kPa; 2 min=477 kPa");
    CHECK(glass.drafts.series.empty());
}

TEST_CASE("a running series changes to the unit of the gauge until its first reading stands, on a tall panel") {
    Glass glass{800.0F, 1280.0F, {}};
    start(glass);
    glass.type("4.8");
    REQUIRE(glass.press("run/check/series/unit"));
    CHECK(glass.drafts.series.at(0).unit == "bar");
    glass.strike(GLFW_KEY_ENTER);
    REQUIRE(glass.drafts.series.at(0).rows.size() == 1);
    CHECK_FALSE(glass.shows("run/check/series/unit"));
    const auto* kept = glass.last<KeepSeries>();
    REQUIRE(kept != nullptr);
    CHECK(kept->runs.at(0).unit == "bar");
}

TEST_CASE("time begins with the first reading, and one that comes too early is not taken") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    glass.world.moment.epoch_s += 7;  // the needle is read, then typed
    glass.type("478");
    glass.strike(GLFW_KEY_ENTER);
    glass.world.moment.epoch_s += 6;
    glass.type("477");
    glass.strike(GLFW_KEY_ENTER);
    CHECK(glass.drafts.series.at(0).rows.size() == 1);
    glass.world.moment.epoch_s += 113;
    glass.strike(GLFW_KEY_ENTER);
    CHECK(glass.drafts.series.at(0).rows.size() == 1);  // 119 s after the first
    glass.world.moment.epoch_s += 1;
    glass.strike(GLFW_KEY_ENTER);
    // It ends before its time only for whoever says so twice.
    REQUIRE(glass.press("run/check/series/finish"));
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    CHECK(glass.drafts.series.size() == 1);
    REQUIRE(glass.press("run/check/series/finish"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "0 min=478 kPa; 2 min=477 kPa");
}

TEST_CASE("one press throws nothing away, and the last reading alone can be taken back") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    glass.type("478");
    glass.strike(GLFW_KEY_ENTER);
    glass.world.moment.epoch_s += 120;
    glass.type("47");
    glass.strike(GLFW_KEY_ENTER);
    glass.strike(GLFW_KEY_ENTER);  // a tenth of the reading before is asked about first
    REQUIRE(glass.drafts.series.at(0).rows.size() == 2);
    REQUIRE(glass.press("run/check/series/take back"));
    REQUIRE(glass.drafts.series.at(0).rows.size() == 1);
    CHECK(glass.drafts.series.at(0).rows.at(0).texts.at(0) == "478");
    REQUIRE(glass.press("run/check/series/drop"));
    CHECK(glass.drafts.series.size() == 1);
    // What was a stray finger is forgotten.
    glass.world.moment.monotonic_s += 7.0;
    REQUIRE(glass.press("run/check/series/drop"));
    CHECK(glass.drafts.series.size() == 1);
    REQUIRE(glass.press("run/check/series/drop"));
    CHECK(glass.drafts.series.empty());
}

TEST_CASE("a series whose saving was refused is there again") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    glass.type("478");
    glass.strike(GLFW_KEY_ENTER);
    // It ends before its time only for whoever says so twice.
    REQUIRE(glass.press("run/check/series/finish"));
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    CHECK(glass.drafts.series.size() == 1);
    REQUIRE(glass.press("run/check/series/finish"));
    CHECK(glass.drafts.series.empty());
    glass.world.saving = true;
    (void)glass.frame();
    glass.world.saving = false;
    glass.world.problem = Problem{"The disk is full.", "journal.db", "Make room.", ProblemKind::NotStored};
    glass.world.problem_at = glass.world.answered + 1;
    (void)glass.frame();
    REQUIRE(glass.drafts.series.size() == 1);
    CHECK(glass.drafts.series.at(0).rows.at(0).texts.at(0) == "478");
    CHECK(glass.last<KeepSeries>()->runs.size() == 1);
}

TEST_CASE("a reading beside the series is typed after its key was pressed") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    REQUIRE(glass.press("run/check/series/to water start"));
    glass.type("18.2");
    glass.strike(GLFW_KEY_ENTER);
    CHECK(glass.drafts.series.at(0).extras.at(0).second == "18.2");
    CHECK(glass.drafts.series.at(0).rows.empty());
}

TEST_CASE("the strip of a running series stays on other checks and screens and leads back") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    glass.open_check("fall-protection");
    CHECK(glass.shows("due/test-hold"));
    glass.drafts.screen = Screen::Outbox;
    (void)glass.frame();
    REQUIRE(glass.press("due/test-hold"));
    CHECK(glass.drafts.screen == Screen::Run);
    CHECK(glass.drafts.run.check == "test-hold");
}

TEST_CASE("a due reading rings once") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    glass.type("478");
    glass.strike(GLFW_KEY_ENTER);
    glass.all.clear();
    glass.world.moment.epoch_s += 121;
    for (int i = 0; i < 5; ++i) (void)glass.frame();
    int rings = 0;
    for (const Request& request : glass.all) {
        if (std::holds_alternative<RingTone>(request)) ++rings;
    }
    CHECK(rings == 1);
}

TEST_CASE("a gauge that shows bar is read in bar, and what is entered says so") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("test-hold");
    REQUIRE(glass.press("run/check/series/unit"));
    REQUIRE(glass.press("run/check/series/start"));
    CHECK(glass.drafts.series.at(0).unit == "bar");
    glass.type("4.78");
    glass.strike(GLFW_KEY_ENTER);
    REQUIRE(glass.press("run/check/series/finish"));
    REQUIRE(glass.press("run/check/series/finish"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "0 min=4.78 bar");
}

TEST_CASE("a value that is not usual, or lost its point, is asked about before it is added") {
    Glass glass{1280.0F, 800.0F, {}};
    for (auto& check : glass.world.job->checks)
        if (check.id == "test-hold") check.plausible_low = 50.0, check.plausible_high = 1200.0;
    start(glass);
    glass.type("4.6");
    glass.strike(GLFW_KEY_ENTER);
    CHECK(glass.drafts.series.at(0).rows.empty());
    static_cast<void>(glass.frame());
    CHECK(std::any_of(glass.probe.letters.begin(), glass.probe.letters.end(),
                      [](const auto& one) { return one.words.find("4.6 kPa is not usual here") != std::string::npos; }));
    // Another value is asked about anew; one that is usual is not.
    for (int i = 0; i < 3; ++i) glass.strike(GLFW_KEY_BACKSPACE);
    glass.type("460");
    glass.read_first();
    glass.strike(GLFW_KEY_ENTER);
    CHECK(glass.drafts.series.at(0).rows.size() == 1);
    glass.world.moment.epoch_s += 120;
    glass.type("51");
    glass.strike(GLFW_KEY_ENTER);
    CHECK(glass.drafts.series.at(0).rows.size() == 1);
    glass.read_first();
    glass.strike(GLFW_KEY_ENTER);
    CHECK(glass.drafts.series.at(0).rows.size() == 2);
}

TEST_CASE("a reading is called for while another sheet lies over its check") {
    Glass glass{1280.0F, 800.0F, {}};
    start(glass);
    static_cast<void>(glass.frame());
    CHECK_FALSE(glass.shows("due/test-hold"));
    glass.drafts.run.mode = RunMode::Plant;
    static_cast<void>(glass.frame());
    CHECK(glass.shows("due/test-hold"));
}

TEST_CASE("on a small panel the question about a value stands where the check is explained") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = 5.906F, .text_percent = 100}};
    for (auto& check : glass.world.job->checks)
        if (check.id == "test-hold") check.plausible_low = 50.0, check.plausible_high = 1200.0;
    start(glass);
    glass.type("4.6");
    glass.strike(GLFW_KEY_ENTER);
    static_cast<void>(glass.frame());
    CHECK(glass.drafts.series.at(0).rows.empty());
    CHECK(glass.says("4.6 kPa is not usual here"));
    CHECK(glass.spot("run/check/series/to reading").small == "4.6 kPa");
    // Another figure, and the question is gone.
    glass.strike(GLFW_KEY_BACKSPACE);
    static_cast<void>(glass.frame());
    CHECK_FALSE(glass.says("is not usual here"));
    // What is typed beside the series stands on its key while it is typed.
    REQUIRE(glass.press("run/check/series/to water start"));
    glass.type("18.2");
    static_cast<void>(glass.frame());
    CHECK(glass.spot("run/check/series/to water start").small == "18.2");
}

TEST_CASE("on a ten-inch panel, lying and standing, chart and question of a running series take turns") {
    constexpr float px_per_mm = 5.906F;
    for (const bool lying : {true, false}) {
        CAPTURE(lying);
        Glass glass{lying ? 1280.0F : 800.0F, lying ? 800.0F : 1280.0F, {.px_per_mm = px_per_mm, .text_percent = 100}};
        start(glass);
        const auto question = [&] { return glass.says("Read the gauge"); };
        CHECK(question());
        CHECK_FALSE(glass.shows("run/check/series/chart"));
        auto& run = glass.drafts.series.at(0);
        run.started_s -= 400;
        run.rows = {{5, {"478"}}, {126, {"477"}}, {247, {"477"}}};
        static_cast<void>(glass.frame());
        static_cast<void>(glass.frame());
        // Nobody has to ask for it, and it is large enough to be read.
        REQUIRE(glass.shows("run/check/series/chart"));
        CHECK(glass.spot("run/check/series/chart").rect.h >= 20.0F * px_per_mm);
        CHECK_FALSE(question());
        REQUIRE(glass.press("run/check/series/turn"));
        static_cast<void>(glass.frame());
        CHECK(question());
        CHECK_FALSE(glass.shows("run/check/series/chart"));
        REQUIRE(glass.press("run/check/series/turn"));
        static_cast<void>(glass.frame());
        CHECK(glass.shows("run/check/series/chart"));
    }
}

TEST_CASE("what is asked about a value stands over the chart") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = 5.906F, .text_percent = 100}};
    start(glass);
    auto& run = glass.drafts.series.at(0);
    run.started_s -= 400;
    run.rows = {{5, {"478"}}, {126, {"477"}}};
    glass.type("47.7");
    glass.strike(GLFW_KEY_ENTER);
    static_cast<void>(glass.frame());
    CHECK(run.rows.size() == 2);
    CHECK(glass.says("is the point in its place?"));
    CHECK_FALSE(glass.shows("run/check/series/chart"));
}

TEST_CASE("while letters are written on a low panel a running series leaves the field its room") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = 5.906F, .text_percent = 100}};
    start(glass);
    glass.open_check("roof-clear");
    REQUIRE(glass.shows("due/test-hold"));
    glass.drafts.run.mode = RunMode::Deferring;
    glass.drafts.board.shown = true;
    static_cast<void>(glass.frame());
    static_cast<void>(glass.frame());
    REQUIRE(glass.shows("run/more/fields/why"));
    CHECK(glass.spot("run/more/fields/why").reachable);
    CHECK_FALSE(glass.shows("due/test-hold"));
    glass.drafts.run.mode = RunMode::Photo;
    static_cast<void>(glass.frame());
    static_cast<void>(glass.frame());
    REQUIRE(glass.shows("run/photo/caption"));
    CHECK(glass.spot("run/photo/caption").reachable);
    CHECK(glass.spot("run/photo/caption").rect.h >= 13.0F * 5.906F);
}

TEST_CASE("each channel of a series is held against its own reading before") {
    Glass glass{1280.0F, 800.0F, {}};
    for (auto& check : glass.world.job->checks)
        if (check.id == "test-hold") check.channels = {"riser", "downcomer"};
    start(glass);
    auto& run = glass.drafts.series.at(0);
    run.started_s -= 200;
    run.rows = {{5, {"180", "19"}}};
    // The second stands far from the first channel and near its own, and is not asked about.
    glass.type("182");
    glass.strike(GLFW_KEY_ENTER);
    static_cast<void>(glass.frame());
    glass.type("20");
    glass.strike(GLFW_KEY_ENTER);
    static_cast<void>(glass.frame());
    REQUIRE(run.rows.size() == 2);
    CHECK(run.rows[1].texts == std::vector<std::string>{"182", "20"});
    run.rows[1].at_s = 100;
    run.started_s -= 200;
    glass.type("183");
    glass.strike(GLFW_KEY_ENTER);
    static_cast<void>(glass.frame());
    glass.type("2.1");
    glass.strike(GLFW_KEY_ENTER);
    static_cast<void>(glass.frame());
    CHECK(run.rows.size() == 2);
    CHECK(glass.says("2.1 kPa after 20: is the point in its place?"));
    // Said again, it is so.
    glass.strike(GLFW_KEY_ENTER);
    static_cast<void>(glass.frame());
    CHECK(run.rows.size() == 3);
}
