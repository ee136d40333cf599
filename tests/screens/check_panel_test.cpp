// One check and its entry areas.
#include "screens/check_panel.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("pressing yes takes the reading yes") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    REQUIRE(glass.press("run/check/yes"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->check == "fall-protection");
    CHECK(reading->text == "yes");
}

TEST_CASE("a choice enters the words of the checklist, whichever they are") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("discharge-pipe");
    REQUIRE(glass.press("run/check/answers/plastic"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "plastic");
}

TEST_CASE("a number key chooses the answer of that place") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("discharge-pipe");
    glass.type("3");
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    glass.strike(GLFW_KEY_ENTER);
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "ends on the roof");
}

TEST_CASE("a choice without places offers the answers of the check itself") {
    Glass glass{1280.0F, 800.0F, {}};
    for (auto& check : glass.world.job->checks) {
        if (check.id != "discharge-pipe") continue;
        check.accepted = {"metal"};
        check.refused = {"plastic"};
        check.places.clear();
    }
    glass.open_check("discharge-pipe");
    CHECK(glass.shows("run/check/answers/metal"));
    REQUIRE(glass.press("run/check/answers/plastic"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "plastic");
}

TEST_CASE("a check that does not conform says why and what to do now") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("discharge-pipe");
    CHECK(glass.says("The pipe is plastic: steam softens it."));
    CHECK(glass.says("To do now: Lay it again in metal"));
}

TEST_CASE("caution, waiting hold points and missing facts are shown") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    CHECK(glass.says("No one goes up before this is answered with yes."));
    glass.open_check("open-items");
    CHECK(glass.says("Waits for the hold point: Pressure holds for ten minutes."));
    glass.open_check("coll-tilt");
    CHECK(glass.says("Cannot be judged yet: intended tilt (sys.tilt_target) is not known."));
}

TEST_CASE("a correction asks what was done before it takes the new reading") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("discharge-pipe");
    REQUIRE(glass.press("run/corrected"));
    (void)glass.frame();
    const std::string good = "run/check/answers/metal, full bore, falls all the way to a seen end";
    CHECK_FALSE(glass.spot(good).enabled);
    REQUIRE(glass.press("run/check/done"));
    glass.type("laid again in copper");
    REQUIRE(glass.press(good));
    const auto* fault = glass.last_intent<desk::CorrectFault>();
    REQUIRE(fault != nullptr);
    CHECK(fault->done == "laid again in copper");
    CHECK(fault->reading.text == "metal, full bore, falls all the way to a seen end");
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
}

TEST_CASE("a conflict shows both readings and keeps the one a person chooses") {
    Glass glass{1280.0F, 800.0F, {}};
    testing::open_conflict(glass);
    CHECK(glass.shows("run/check/conflict/readings/aa11"));
    REQUIRE(glass.press("run/check/conflict/readings/bb22"));
    const auto* resolved = glass.last_intent<desk::ResolveConflict>();
    REQUIRE(resolved != nullptr);
    CHECK(resolved->keep == "bb22");
}

TEST_CASE("a computed check offers nothing to enter") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("open-items");
    CHECK(glass.says("Nothing to enter"));
}

namespace {

/// A ten-inch panel of 16:10, 217.5 by 136.0 mm.
struct TenInch {
    const char* name;
    float width_px, height_px;
};
constexpr TenInch ten_inch[] = {{"lying", 1280.0F, 800.0F}, {"standing", 800.0F, 1280.0F}};
constexpr float ten_inch_px_per_mm = 1280.0F / 217.5F;

desk::CheckView& named(Glass& glass, const std::string& id) {
    for (auto& check : glass.world.job->checks)
        if (check.id == id) return check;
    FAIL("no such check");
    return glass.world.job->checks.front();
}

/// Opens a check, saves a reading and lets the desk answer that it does not conform.
void save_one_that_fails(Glass& glass, const std::string& id, const char* text) {
    desk::CheckView& check = named(glass, id);
    check.outcome = measure::Outcome::Open;
    check.why.clear();
    if (glass.drafts.run.check != id) glass.open_check(id);
    const std::string place = glass.drafts.run.place;
    Requests sent;
    save_reading(check, text, glass.drafts.run, sent);
    check.outcome = measure::Outcome::DoesNotConform;
    check.why = "What was read lies below the lower limit by far more than the doubt of the instrument, and the reason fills some lines.";
    for (auto& one : check.places)
        if (one.name == place) one.outcome = measure::Outcome::DoesNotConform;
    ++glass.world.answered;
    for (int i = 0; i < 4; ++i) (void)glass.frame();
}

/// The prose of the check at hand that begins so; nothing of it is seen where there is none.
Lettering prose_of(const Glass& glass, std::string_view begin) {
    for (const Lettering& letters : glass.probe.letters)
        if (letters.path == "run/check/about" && letters.words.starts_with(begin)) return letters;
    return {};
}

}  // namespace

TEST_CASE("a check that failed stays in view with what to do about it until Next or the correction, on ten inches at every size of words") {
    struct Failing {
        const char* check;
        const char* text;
    };
    for (const TenInch& panel : ten_inch) {
        for (const int percent : {100, 150, 200}) {
            for (const auto& [id, text] : {Failing{"fall-protection", "no"}, Failing{"discharge-pipe", "plastic"}, Failing{"anchor-torque", "12"},
                                           Failing{"test-pressure", "300"}, Failing{"test-hold", "478 470 455"}}) {
                CAPTURE(panel.name);
                CAPTURE(percent);
                CAPTURE(id);
                Glass glass{panel.width_px, panel.height_px, {.px_per_mm = ten_inch_px_per_mm, .text_percent = percent}};
                save_one_that_fails(glass, id, text);
                const Lettering remedy = prose_of(glass, "To do now: ");
                CHECK(remedy.seen.h >= remedy.size_px - 1.0F);
                CHECK(remedy.size_px > 0.0F);
                // Large words leave no room for all of it; the bar beside says that it goes on.
                if (percent == 100) CHECK(remedy.seen.h >= remedy.at.h - 1.0F);
                glass.world.moment.monotonic_s += 120.0;
                for (int i = 0; i < 3; ++i) (void)glass.frame();
                CHECK(glass.drafts.run.check == id);
                CHECK(prose_of(glass, "To do now: ").seen.h >= remedy.size_px - 1.0F);
                REQUIRE(glass.press("run/corrected"));
                (void)glass.frame();
                CHECK(glass.drafts.run.mode == RunMode::Correcting);
                CHECK(glass.drafts.run.check == id);
                glass.drafts.run.mode = RunMode::Reading;
                REQUIRE(glass.press("run/next"));
                CHECK(glass.drafts.run.check != id);
            }
        }
    }
}

TEST_CASE("a verdict is read from its beginning, however far the question was scrolled") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = ten_inch_px_per_mm, .text_percent = 200}};
    glass.open_check("fall-protection");
    const Lettering before = prose_of(glass, "Is there an edge guard");
    REQUIRE(before.seen.h > 0.0F);
    const float x = before.seen.x + before.seen.w / 2.0F;
    const float y = before.seen.y + before.seen.h / 2.0F;
    glass.put_finger(x, y);
    for (int i = 1; i <= 4; ++i) glass.move_finger(x, y - 30.0F * static_cast<float>(i));
    glass.lift_finger();
    REQUIRE(prose_of(glass, "Is there an edge guard").at.y < before.at.y - 60.0F);
    save_one_that_fails(glass, "fall-protection", "no");
    const Lettering remedy = prose_of(glass, "To do now: ");
    CHECK(remedy.size_px > 0.0F);
    CHECK(remedy.seen.h >= remedy.size_px - 1.0F);
}

namespace {

/// The torque of the anchors as the shipped list asks for it.
void ask_for_torque(Glass& glass) {
    desk::CheckView& check = named(glass, "anchor-torque");
    check.question = "What did the torque wrench show at this anchor of the store?";
    check.limits.text = "18.0 to 22.0 N·m (20.0 N·m and 10 % of it)";
    glass.open_check("anchor-torque");
}

void type_one_that_fails(Glass& glass) {
    glass.drafts.run.value = "9";
    (void)glass.frame();
    REQUIRE(glass.drafts.run.asked);
    desk::Preview preview;
    preview.outcome = measure::Outcome::DoesNotConform;
    preview.why = "9.0 N·m lies below the lower limit of 18.0 N·m, by more than the doubt of the wrench.";
    preview.value = 9.0;
    glass.world.preview = PreviewOf{*glass.drafts.run.asked, preview};
    for (int i = 0; i < 3; ++i) (void)glass.frame();
}

int lines_seen(const Lettering& letters) { return letters.size_px > 0.0F ? static_cast<int>((letters.seen.h + 1.0F) / letters.size_px) : 0; }

/// What is asked, required or meant and ends within a line, or with more of the next than its empty upper edge.
std::vector<std::string> cut_through(const Glass& glass) {
    std::vector<std::string> cut;
    for (const Lettering& letters : glass.probe.letters) {
        const auto begins = [&](std::string_view words) { return letters.words.starts_with(words); };
        if (!(begins("What did") || begins("Is it seen") || begins("Required: ") || begins("If saved: "))) continue;
        if (letters.path != "run/check/about" || letters.seen.h <= 0.0F || letters.seen.h >= letters.at.h - 1.0F) continue;
        const float over = letters.seen.h - static_cast<float>(lines_seen(letters)) * letters.size_px;
        if (over > 0.6F * ten_inch_px_per_mm) cut.push_back(letters.words);
    }
    return cut;
}

bool goes_on(const Glass& glass) {
    const auto& more = glass.probe.more_below;
    return std::find(more.begin(), more.end(), "run/check/about") != more.end();
}

}  // namespace

TEST_CASE("beside places no line of what is asked, required or meant is cut through, and none is missing, on ten inches at every size of words") {
    for (const TenInch& panel : ten_inch) {
        for (const int percent : {100, 150, 200}) {
            CAPTURE(panel.name);
            CAPTURE(percent);
            Glass glass{panel.width_px, panel.height_px, {.px_per_mm = ten_inch_px_per_mm, .text_percent = percent}};
            ask_for_torque(glass);
            CHECK(cut_through(glass) == std::vector<std::string>{});
            CHECK(lines_seen(prose_of(glass, "What did")) >= (percent == 200 ? 1 : 2));
            const Lettering required = prose_of(glass, "Required: ");
            if (percent == 100) CHECK(lines_seen(required) >= 1);
            if (panel.width_px > panel.height_px) CHECK(goes_on(glass));
            type_one_that_fails(glass);
            CHECK(cut_through(glass) == std::vector<std::string>{});
            CHECK(lines_seen(prose_of(glass, "If saved: ")) >= 1);
            if (panel.width_px > panel.height_px) CHECK(goes_on(glass));
        }
    }
}

TEST_CASE("in a correction beside places it is still said what the value would mean, on ten inches") {
    for (const TenInch& panel : ten_inch) {
        CAPTURE(panel.name);
        Glass glass{panel.width_px, panel.height_px, {.px_per_mm = ten_inch_px_per_mm}};
        desk::CheckView& check = named(glass, "anchor-torque");
        check.outcome = measure::Outcome::DoesNotConform;
        check.places[2].outcome = measure::Outcome::DoesNotConform;
        ask_for_torque(glass);
        REQUIRE(glass.press("run/corrected"));
        glass.drafts.run.done = "tightened again";
        type_one_that_fails(glass);
        CHECK(glass.drafts.run.mode == RunMode::Correcting);
        CHECK(lines_seen(prose_of(glass, "If saved: ")) >= 1);
        CHECK(cut_through(glass) == std::vector<std::string>{});
    }
}

TEST_CASE("in letters of 200 % two whole lines of the question are seen on ten inches") {
    for (const TenInch& panel : ten_inch) {
        for (const char* id : {"fall-protection", "test-pressure", "goods-scan", "nut-marks"}) {
            CAPTURE(panel.name);
            CAPTURE(id);
            Glass glass{panel.width_px, panel.height_px, {.px_per_mm = ten_inch_px_per_mm, .text_percent = 200}};
            named(glass, id).question = "Is it seen on both sides of the roof, from the ladder and from below, in good light and with clean glasses?";
            glass.open_check(id);
            CHECK(lines_seen(prose_of(glass, "Is it seen")) >= 2);
            CHECK(cut_through(glass) == std::vector<std::string>{});
        }
    }
}
