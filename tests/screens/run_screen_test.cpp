// Moving through a run.
#include "screens/run_screen.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("an opened job starts at its first open check") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->checks[0].outcome = measure::Outcome::Conforms;
    glass.drafts.screen = Screen::Run;
    (void)glass.frame();
    CHECK(glass.drafts.run.check == "goods-scan");
}

TEST_CASE("a stage key goes to the first open check of its stage") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    REQUIRE(glass.press("run/stage/G"));
    CHECK(glass.drafts.run.check == "test-pressure");
}

TEST_CASE("next and back pass over checks that do not apply") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job->checks[1].applies = false;
    glass.open_check("fall-protection");
    REQUIRE(glass.press("run/next"));
    CHECK(glass.drafts.run.check == "goods-scan");
    REQUIRE(glass.press("run/previous"));
    CHECK(glass.drafts.run.check == "fall-protection");
}

TEST_CASE("a small panel reaches stages, list and drawing through keys of the bottom row") {
    Glass glass{800.0F, 1280.0F, {.px_per_mm = 5.9F}};
    glass.open_check("fall-protection");
    CHECK_FALSE(glass.shows("run/stage/G"));
    REQUIRE(glass.press("run/stages"));
    REQUIRE(glass.press("run/stage/G"));
    CHECK(glass.drafts.run.check == "test-pressure");
    REQUIRE(glass.press("run/plant"));
    (void)glass.frame();
    CHECK(glass.shows("run/sheet/test-hold"));
}

TEST_CASE("without a job the screen says where to find one") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job.reset();
    glass.drafts.screen = Screen::Run;
    (void)glass.frame();
    CHECK(glass.says("No job is open."));
}

TEST_CASE("a check asked for in another job waits until that job is open") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Run;
    glass.drafts.run.wanted = WantedCheck{"A-0099", "test-hold", RunMode::Reading};
    glass.world.saving = true;
    (void)glass.frame();
    CHECK(glass.says("Opening job A-0099"));
    glass.world.job->row.job = "A-0099";
    (void)glass.frame();
    CHECK(glass.drafts.run.check == "test-hold");
}

TEST_CASE("a job that is not there is not waited for") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.job.reset();
    glass.drafts.screen = Screen::Run;
    glass.drafts.run.wanted = WantedCheck{"A-4711", "test-hold", RunMode::Reading};
    glass.world.saving = true;
    (void)glass.frame();
    CHECK(glass.says("Opening job A-4711"));
    glass.world.saving = false;
    (void)glass.frame();
    CHECK(glass.says("No job is open."));
}

// A glove that bounces taps twice within a tenth of a second; before eyes have read what came by itself no finger means it.
// Common practice, no source.
TEST_CASE("the second of two quick taps answers nothing: not the next check, not the next place") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    REQUIRE(glass.press("run/check/yes"));
    REQUIRE(glass.last_intent<desk::TakeReading>() != nullptr);
    // The desk answers, and the run goes on to a check with the same two keys under the same finger.
    glass.world.job->checks[0].outcome = measure::Outcome::Conforms;
    glass.world.job->checks[1].outcome = measure::Outcome::Open;
    ++glass.world.answered;
    (void)glass.frame();
    (void)glass.frame();
    REQUIRE(glass.drafts.run.check == "power-locked");
    glass.all.clear();
    const Rect yes = glass.spot("run/check/yes").rect;
    glass.world.moment.monotonic_s += 0.15;
    glass.put_finger(yes.x + yes.w / 2.0F, yes.y + yes.h / 2.0F);
    // Let go long after: the press was meant for what stood there before.
    glass.world.moment.monotonic_s += 2.0;
    glass.lift_finger();
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    REQUIRE(glass.press("run/check/yes"));
    REQUIRE(glass.last_intent<desk::TakeReading>() != nullptr);
    CHECK(glass.last_intent<desk::TakeReading>()->check == "power-locked");
}

TEST_CASE("a second Undo in the same breath takes nothing back, and the check of the first is shown") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("roof-clear");
    REQUIRE(glass.press("run/undo"));
    glass.all.clear();
    const Rect undo = glass.spot("run/undo").rect;
    glass.world.moment.monotonic_s += 0.06;
    glass.put_finger(undo.x + undo.w / 2.0F, undo.y + undo.h / 2.0F);
    glass.lift_finger();
    CHECK(glass.last_intent<desk::UndoLast>() == nullptr);
    ++glass.world.answered;
    glass.world.undone = std::pair{glass.world.answered, std::string{"goods-scan"}};
    (void)glass.frame();
    (void)glass.frame();
    CHECK(glass.drafts.run.check == "goods-scan");
}

TEST_CASE("a check that waits for a hold point leads there, or is answered out of turn on purpose") {
    Glass glass{1280.0F, 800.0F, {}};
    for (auto& check : glass.world.job->checks)
        if (check.id == "roof-clear") check.waits_for = {"fall-protection"};
    glass.open_check("roof-clear");
    CHECK_FALSE(glass.shows("run/check/yes"));
    CHECK(glass.spot("run/check/turn/keys/go to fall-protection").words == "Go to: Nobody can fall");
    REQUIRE(glass.press("run/check/turn/keys/out of turn"));
    (void)glass.frame();
    CHECK(glass.shows("run/check/yes"));
    glass.open_check("goods-scan");
    glass.open_check("roof-clear");
    // Asked again: another visit is another turn.
    REQUIRE(glass.press("run/check/turn/keys/go to fall-protection"));
    (void)glass.frame();
    CHECK(glass.drafts.run.check == "fall-protection");
}

TEST_CASE("a number that was typed and not saved is there again, is told as such, and is typed anew from its first digit") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("test-pressure");
    glass.type("478");
    REQUIRE(glass.drafts.run.value == "478");
    REQUIRE(glass.press("run/stage/A"));
    CHECK(glass.drafts.run.value.empty());
    REQUIRE(glass.press("run/stage/G"));
    CHECK(glass.drafts.run.value == "478");
    (void)glass.frame();
    CHECK(glass.says("NOT saved"));
    glass.type("5");
    CHECK(glass.drafts.run.value == "5");
    glass.type("1");
    CHECK(glass.drafts.run.value == "51");
    // Taking back a sign of it is no new number.
    REQUIRE(glass.press("run/stage/A"));
    REQUIRE(glass.press("run/stage/G"));
    glass.strike(GLFW_KEY_BACKSPACE);
    CHECK(glass.drafts.run.value == "5");
}

TEST_CASE("at the largest words the check has the whole glass") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = 3.78F, .text_percent = 200}};
    glass.open_check("test-pressure");
    CHECK_FALSE(glass.shows("run/stage/A"));
    CHECK(glass.shows("run/stages"));
}

TEST_CASE("Next says how many open checks it leaves out because they wait") {
    Glass glass{1600.0F, 1000.0F, {}};
    glass.world.job->checks[1].outcome = measure::Outcome::Open;
    glass.world.job->checks[1].waits_for = {"test-hold"};
    glass.open_check("fall-protection");
    CHECK(glass.spot("run/next").small == "skips 1 waiting");
    glass.world.job->checks[1].waits_for.clear();
    (void)glass.frame();
    CHECK(glass.spot("run/next").small == "Heater circuit …");
}

TEST_CASE("the keys of the lowest row stay where they are, whatever the outcome") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    const float undo = glass.spot("run/undo").rect.x;
    CHECK_FALSE(glass.spot("run/corrected").enabled);
    glass.open_check("discharge-pipe");
    CHECK(glass.spot("run/corrected").enabled);
    CHECK(glass.spot("run/undo").rect.x == undo);
}

TEST_CASE("a check is found by a word of it, on a wide panel and with letters on the glass") {
    for (const bool keyboard : {true, false}) {
        CAPTURE(keyboard);
        Glass glass{1280.0F, 800.0F, {}};
        glass.drafts.attention.has_keyboard = keyboard;
        glass.open_check("fall-protection");
        REQUIRE(glass.press("run/list/find"));
        (void)glass.frame();
        REQUIRE(glass.shows("run/list/search"));
        CHECK(glass.shows("letters/a") == !keyboard);
        if (keyboard) {
            glass.type("torq");
        } else {
            REQUIRE(glass.press("run/list/search"));
            for (const char* letter : {"t", "o", "r", "q"}) REQUIRE(glass.press(std::string{"letters/"} + letter));
        }
        (void)glass.frame();
        CHECK_FALSE(glass.shows("run/list/rows/goods-scan"));
        REQUIRE(glass.press("run/list/rows/anchor-torque"));
        (void)glass.frame();
        CHECK(glass.drafts.run.check == "anchor-torque");
        CHECK_FALSE(glass.shows("letters/a"));
        CHECK_FALSE(glass.shows("run/list/search"));
    }
}

TEST_CASE("Corrected answers as long as nothing says what was done, also where a later reading conforms") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    for (auto& check : glass.world.job->checks)
        if (check.id == "fall-protection") check.outcome = measure::Outcome::Conforms;
    (void)glass.press("run/corrected");
    CHECK(glass.drafts.run.mode == RunMode::Reading);
    for (auto& check : glass.world.job->checks)
        if (check.id == "fall-protection") check.uncorrected = 1;
    (void)glass.frame();
    CHECK(glass.says("A reading failed here before"));
    REQUIRE(glass.press("run/corrected"));
    CHECK(glass.drafts.run.mode == RunMode::Correcting);
}

TEST_CASE("Put right says why it is blocked: nothing failed here, or what failed is worked out from other checks") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = 3.73F}};
    glass.open_check("roof-clear");
    CHECK_FALSE(glass.spot("run/corrected").enabled);
    CHECK(glass.spot("run/corrected").small == "no fault here");
    for (auto& check : glass.world.job->checks)
        if (check.id == "open-items") check.outcome = measure::Outcome::DoesNotConform;
    glass.open_check("open-items");
    CHECK_FALSE(glass.spot("run/corrected").enabled);
    CHECK(glass.spot("run/corrected").small == "worked out");
    glass.open_check("discharge-pipe");
    CHECK(glass.spot("run/corrected").enabled);
    CHECK(glass.spot("run/corrected").small.empty());
}

TEST_CASE("touched where it is blocked, Put right says why in the line of messages, on a panel across and upright") {
    const std::string why = "Nothing failed here, so there is nothing to put right.";
    // 10.1 inch of 16 : 10 is 217.5 by 136.0 mm.
    for (const auto& [width_px, height_px] : {std::pair{1280.0F, 800.0F}, std::pair{800.0F, 1280.0F}}) {
        CAPTURE(width_px);
        Glass glass{width_px, height_px, {.px_per_mm = 1280.0F / 217.5F}};
        glass.open_check("fall-protection");
        CHECK_FALSE(glass.says(why));
        REQUIRE(glass.press("run/corrected"));
        CHECK(glass.drafts.run.mode == RunMode::Reading);
        CHECK(glass.says(why));
        CHECK(glass.probe.cut_off == std::vector<std::string>{});
        // It goes with the next touch, with another check, and by itself.
        REQUIRE(glass.press("run/plant"));
        CHECK_FALSE(glass.says(why));
        REQUIRE(glass.press("run/plant"));
        REQUIRE(glass.press("run/corrected"));
        CHECK(glass.says(why));
        glass.open_check("discharge-pipe");
        (void)glass.frame();
        CHECK_FALSE(glass.says(why));
        glass.open_check("fall-protection");
        REQUIRE(glass.press("run/corrected"));
        glass.world.moment.monotonic_s += 9.0;
        (void)glass.frame();
        CHECK_FALSE(glass.says(why));
    }
}

TEST_CASE("an answer that waits for the word of what was done says so when it is touched") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("discharge-pipe");
    REQUIRE(glass.press("run/corrected"));
    const std::string answer = "run/check/answers/plastic";
    REQUIRE(glass.shows(answer));
    REQUIRE(glass.press(answer));
    CHECK(glass.last_intent<desk::CorrectFault>() == nullptr);
    CHECK(glass.says("First write what was done about it."));
}

TEST_CASE("Undo takes back what is being typed before anything that was saved") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("test-pressure");
    glass.type("77");
    REQUIRE(glass.press("run/undo"));
    CHECK(glass.drafts.run.value.empty());
    CHECK(glass.last_intent<desk::UndoLast>() == nullptr);
    glass.read_first();
    REQUIRE(glass.press("run/undo"));
    CHECK(glass.last_intent<desk::UndoLast>() != nullptr);
}

TEST_CASE("a number without an instrument in the job leads to one") {
    Glass glass{1280.0F, 800.0F, {}};
    for (auto& check : glass.world.job->checks)
        if (check.id == "test-pressure") {
            check.instruments.clear();
            check.instrument_type = "pressure gauge";
        }
    glass.open_check("test-pressure");
    REQUIRE(glass.press("run/check/instrument/which"));
    CHECK(glass.drafts.run.mode == RunMode::Instrument);
}

TEST_CASE("a missing fact that is one of few words is a touch, not a text") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("test-pressure");
    for (auto& check : glass.world.job->checks)
        if (check.id == "test-pressure") {
            check.missing_facts = {"sys.feed"};
            check.missing_words = {"feed of the store"};
        }
    glass.world.job->unknown_facts = {{"sys.feed", "", "feed of the store", false, "", {"mains-pressure", "vented"}}};
    glass.drafts.run.mode = RunMode::Facts;
    (void)glass.frame();
    REQUIRE(glass.press("run/more/fields/vented"));
    REQUIRE(glass.press("run/more/state"));
    const auto* stated = glass.last_intent<desk::StateFacts>();
    REQUIRE(stated != nullptr);
    CHECK(stated->facts.begin()->second == "vented");
}

TEST_CASE("a picture that is wanted is said on its key until there is one") {
    Glass glass{1280.0F, 800.0F, {}};
    for (auto& check : glass.world.job->checks)
        if (check.id == "test-pressure") check.photo = "wanted";
    glass.open_check("test-pressure");
    CHECK(glass.spot("run/photo").small == "wanted here");
    glass.drafts.run.photo_path = "/photos/gauge.jpg";
    (void)glass.frame();
    CHECK(glass.spot("run/photo").small.empty());
}

TEST_CASE("Undo takes back the half written word of a correction before any entry") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("discharge-pipe");
    glass.drafts.run.mode = RunMode::Correcting;
    glass.drafts.run.done = "Laid it in copper";
    static_cast<void>(glass.frame());
    CHECK(glass.spot("run/undo").small == "what is typed");
    REQUIRE(glass.press("run/undo"));
    CHECK(glass.drafts.run.done.empty());
    CHECK(glass.drafts.run.mode == RunMode::Correcting);
    CHECK(glass.last_intent<desk::UndoLast>() == nullptr);
    REQUIRE(glass.press("run/undo"));
    CHECK(glass.last_intent<desk::UndoLast>() != nullptr);
}

TEST_CASE("a figure half typed in a series is kept with its place") {
    KeptNumber number;
    std::vector<SeriesRun> running;
    {
        Glass glass{1280.0F, 800.0F, {}};
        glass.open_check("test-hold");
        REQUIRE(glass.press("run/check/series/start"));
        glass.type("47");
        static_cast<void>(glass.frame());
        const auto* kept = glass.last<KeepNumber>();
        REQUIRE(kept != nullptr);
        number = kept->number;
        running = glass.drafts.series;
    }
    CHECK(number.check == "test-hold");
    CHECK(number.words.at("channel 1") == "47");
    CHECK(read_number_kept(written(number)) == number);
    Glass again{1280.0F, 800.0F, {}};
    again.drafts.series = running;
    again.drafts.run.from_before = number;
    again.open_check("test-hold");
    static_cast<void>(again.frame());
    CHECK(again.drafts.run.series.values.at(0) == "47");
}
