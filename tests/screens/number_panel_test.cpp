// The number entry and its preview.
#include "screens/number_panel.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

void answer_preview(Glass& glass, desk::Preview preview) {
    const auto* asked = glass.last<AskPreview>();
    REQUIRE(asked != nullptr);
    glass.world.preview = PreviewOf{*asked, std::move(preview)};
    (void)glass.frame();
}

}  // namespace

TEST_CASE("each change of the value asks once what it would mean") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("test-pressure");
    glass.type("47");
    const auto* asked = glass.last<AskPreview>();
    REQUIRE(asked != nullptr);
    CHECK(asked->text == "47");
    CHECK(asked->check == "test-pressure");
    CHECK(asked->instrument == "PG-1");
    const std::size_t count = glass.all.size();
    (void)glass.frame();
    (void)glass.frame();
    CHECK(glass.all.size() == count);
}

TEST_CASE("a preview of an earlier value is not shown for a later one") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.desk_answers = false;
    glass.open_check("test-pressure");
    glass.type("47");
    desk::Preview preview;
    preview.outcome = measure::Outcome::DoesNotConform;
    answer_preview(glass, preview);
    CHECK(preview_now(glass.world, glass.drafts.run) != nullptr);
    glass.type("5");
    CHECK(preview_now(glass.world, glass.drafts.run) == nullptr);
}

TEST_CASE("an implausible value must be saved twice, and then says that the person is sure") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("test-pressure");
    glass.type("4780");
    desk::Preview preview;
    preview.needs_sure = true;
    preview.warnings = {"Ten times what is usual: is the point in its place?"};
    answer_preview(glass, preview);
    REQUIRE(glass.press("run/check/keypad/save"));
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    REQUIRE(glass.press("run/check/keypad/save"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->sure);
}

TEST_CASE("being sure of one value does not carry over to the next") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("test-pressure");
    glass.type("4780");
    desk::Preview preview;
    preview.needs_sure = true;
    answer_preview(glass, preview);
    REQUIRE(glass.press("run/check/keypad/save"));
    glass.type("1");
    CHECK_FALSE(glass.drafts.run.sure);
}

TEST_CASE("another instrument is chosen by its key and goes into the reading") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("anchor-torque");
    REQUIRE(glass.press("run/check/instrument/TW-2"));
    glass.type("20");
    glass.strike(GLFW_KEY_ENTER);
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->instrument == "TW-2");
}

TEST_CASE("an instrument is named by its number once") {
    desk::InstrumentView gauge;
    gauge.id = "PG-1";
    gauge.label = "PG-1 gauge";
    CHECK(instrument_words(gauge) == "PG-1 gauge");
    gauge.label = "gauge";
    CHECK(instrument_words(gauge) == "PG-1 gauge");
    gauge.label.clear();
    CHECK(instrument_words(gauge) == "PG-1");
}

TEST_CASE("a value saved before it is known what it would mean waits for the guard") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.desk_answers = false;
    glass.open_check("test-pressure");
    glass.type("4780");
    REQUIRE(glass.press("run/check/keypad/save"));
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    desk::Preview preview;
    preview.needs_sure = true;
    preview.warnings = {"Look again: 478 would fit, 4780 does not. Is the decimal point in its place?"};
    answer_preview(glass, preview);
    (void)glass.frame();
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    CHECK(glass.says("Look again: 478 would fit"));
    preview = {};
    glass.type("\b");
    glass.strike(GLFW_KEY_BACKSPACE);
    REQUIRE(glass.press("run/check/keypad/save"));
    answer_preview(glass, preview);
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "478");
    CHECK_FALSE(reading->sure);
}

TEST_CASE("the unit goes on to what the instrument shows and is kept as entered") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("test-pressure");
    glass.type("4.5");
    REQUIRE(glass.press("run/check/unit"));
    (void)glass.frame();
    CHECK(glass.last<AskPreview>()->text == "4.5 bar");
    REQUIRE(glass.press("run/check/keypad/save"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "4.5 bar");
    for (int i = 0; i < 2; ++i) REQUIRE(glass.press("run/check/unit"));
    CHECK(glass.drafts.run.unit.empty());
    glass.open_check("anchor-torque");
    (void)glass.frame();
    CHECK_FALSE(glass.shows("run/check/unit"));
}

TEST_CASE("a unit typed behind the figures is taken, and what is no unit here is asked about") {
    desk::Preview preview;
    preview.outcome = measure::Outcome::Conforms;
    {
        Glass glass{1280.0F, 800.0F, {}};
        glass.desk_answers = false;
        glass.open_check("test-pressure");
        glass.type("60 psi");
        CHECK(glass.drafts.run.unit == "psi");
        CHECK(glass.drafts.run.letters.empty());
        answer_preview(glass, preview);
        CHECK(glass.last<AskPreview>()->text == "60 psi");
        REQUIRE(glass.press("run/check/keypad/save"));
        CHECK(glass.last_intent<desk::TakeReading>() != nullptr);
    }
    Glass other{1280.0F, 800.0F, {}};
    other.desk_answers = false;
    other.open_check("test-pressure");
    other.type("60 cm");
    CHECK(other.says("\"cm\" is not taken; is it kPa?"));
    answer_preview(other, preview);
    REQUIRE(other.press("run/check/keypad/save"));
    CHECK(other.last_intent<desk::TakeReading>() == nullptr);
    (void)other.frame();
    CHECK(other.drafts.run.sure);
}

TEST_CASE("a word typed beside its field answers nothing") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    glass.type("yellow anchor near the ridge");
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    glass.open_check("fall-protection");
    glass.type("n");
    glass.strike(GLFW_KEY_ENTER);
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "no");
    glass.all.clear();
    glass.strike(GLFW_KEY_ENTER);
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
}

TEST_CASE("what is required stands in the unit the gauge shows") {
    desk::LimitsView limits;
    limits.unit = "kPa";
    limits.low = 310.0;
    limits.high = 480.0;
    CHECK(required_as_shown(limits, "bar") == "3.1 to 4.8 bar");
    // 1 psi = 6.894757 kPa (NIST SP 811:2008, B.8).
    CHECK(required_as_shown(limits, "psi") == "44.96 to 69.62 psi");
    CHECK(required_as_shown(limits, "kPa").empty());
    CHECK(required_as_shown(limits, "").empty());
    limits.low.reset();
    CHECK(required_as_shown(limits, "bar") == "4.8 bar or less");
    limits.unit = "°C";
    limits.low = 60.0;
    limits.high.reset();
    CHECK(required_as_shown(limits, "°F") == "140 °F or more");

    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("test-pressure");
    CHECK_FALSE(glass.says("= 4.32 to 4.8 bar"));
    REQUIRE(glass.press("run/check/unit"));
    (void)glass.frame();
    CHECK(glass.says("= 4.32 to 4.8 bar"));
    CHECK(glass.says("4.8 bar"));
}

TEST_CASE("a second reading says in place of which it would stand") {
    Glass glass{1280.0F, 800.0F, {}};
    desk::ReadingView taken;
    taken.entry = "aa11";
    taken.text = "452 kPa";
    for (auto& check : glass.world.job->checks)
        if (check.id == "test-pressure") check.readings = {taken};
    glass.open_check("test-pressure");
    CHECK(glass.says("new reading, in place of 452 kPa"));
    for (auto& check : glass.world.job->checks)
        if (check.id == "test-pressure") check.readings.front().undone = true;
    (void)glass.frame();
    CHECK_FALSE(glass.says("in place of"));
    // What was said beside it stands apart: a figure does not come in the place of a yes.
    taken.text = "yes";
    taken.place = "tester proved";
    for (auto& check : glass.world.job->checks)
        if (check.id == "test-pressure") check.readings.push_back(taken);
    (void)glass.frame();
    CHECK_FALSE(glass.says("in place of"));
}

TEST_CASE("a figure from a plate is not said to come from the gauge at hand") {
    Glass glass{1280.0F, 800.0F, {}};
    for (auto& check : glass.world.job->checks) {
        if (check.id != "test-pressure") continue;
        desk::PlaceView whole;
        whole.form = desk::EntryForm::Number;
        whole.unit = "kPa";
        desk::PlaceView part = whole;
        part.name = "vessel size";
        part.question = "How many litres does its plate say?";
        part.unit = "L";
        check.places = {whole, part};
    }
    glass.open_check("test-pressure");
    REQUIRE(glass.press("run/check/places/vessel size"));
    glass.type("35");
    REQUIRE(glass.last<AskPreview>() != nullptr);
    CHECK(glass.last<AskPreview>()->instrument.empty());
    CHECK_FALSE(glass.shows("run/check/instrument/PG-1"));
    glass.strike(GLFW_KEY_ENTER);
    REQUIRE(glass.last_intent<desk::TakeReading>() != nullptr);
    CHECK(glass.last_intent<desk::TakeReading>()->instrument.empty());
    REQUIRE(glass.press("run/check/places/all"));
    glass.type("450");
    CHECK(glass.last<AskPreview>()->instrument == "PG-1");
}

namespace {

/// As it is, or broken off behind one of its words.
bool is_shortened_at_a_word(const std::string& shown, const std::string& whole) {
    if (shown == whole) return true;
    constexpr std::string_view mark = " …";
    if (!std::string_view{shown}.ends_with(mark)) return false;
    const std::string kept = shown.substr(0, shown.size() - mark.size());
    return !kept.empty() && whole.starts_with(kept) && whole.size() > kept.size() && whole[kept.size()] == ' ';
}

}  // namespace

TEST_CASE("what a typed value would mean does not hide the name of the check on a low panel") {
    // 10.1 inch of 16:10 is 217.5 by 136.0 mm.
    constexpr float px_per_mm = 1280.0F / 217.5F;
    for (const bool lying : {true, false}) {
        for (const int percent : {100, 150, 200}) {
            for (const std::string title : {"Pressure at the start of the test", "Pressure of the loop between store and heater at the start of the test, on the lowest gauge there is"}) {
                CAPTURE(lying);
                CAPTURE(percent);
                CAPTURE(title);
                Glass glass{lying ? 1280.0F : 800.0F, lying ? 800.0F : 1280.0F, {.px_per_mm = px_per_mm, .text_percent = percent}};
                for (auto& check : glass.world.job->checks)
                    if (check.id == "test-pressure") check.title = title;
                glass.open_check("test-pressure");
                glass.type("300");
                REQUIRE(glass.world.preview);
                glass.world.preview->preview.outcome = measure::Outcome::DoesNotConform;
                (void)glass.frame();
                std::string name, verdict;
                for (const Lettering& letters : glass.probe.letters) {
                    if (letters.path == "run/check/title") name = letters.words;
                    if (letters.path == "run/check/meaning") verdict = letters.words;
                }
                CAPTURE(name);
                CHECK(verdict == "does not conform");
                CHECK(is_shortened_at_a_word(name, title));
                CHECK(name.size() >= 16);
                CHECK(glass.probe.cut_off.empty());
            }
        }
    }
}

TEST_CASE("the receipt of what was saved keeps the name of its check, shortened at a word where the line is full") {
    const std::string title = "Pressure of the loop between store and heater at the start of the test";
    for (const int percent : {100, 150, 200}) {
        for (const bool fell : {false, true}) {
            CAPTURE(percent);
            CAPTURE(fell);
            Glass glass{800.0F, 1280.0F, {.px_per_mm = 1280.0F / 217.5F, .text_percent = percent}};
            glass.open_check("fall-protection");
            Receipt receipt{"test-pressure", title, "", "a long word from the crew about all that was seen there, and then some more of it",
                            measure::Outcome::DoesNotConform, true, glass.world.saved_mark};
            if (fell) receipt.fallen = title + ": the calibration of the gauge ran out before the day on which it was used, and nobody had another one";
            glass.drafts.run.receipt = receipt;
            (void)glass.frame();
            std::string line;
            for (const Lettering& letters : glass.probe.letters)
                if (letters.words.starts_with("does not conform")) line = letters.words;
            CAPTURE(line);
            CHECK(line.find(" · Pressure of ") != std::string::npos);
            CHECK(line.find("…") != std::string::npos);
            CHECK(line.ends_with(glass.world.saved_mark));
            CHECK(glass.probe.cut_off.empty());
        }
    }
}

TEST_CASE("of a corrected number what stands above it and what saves it are read at arm's length") {
    // DejaVu's capitals are 1493 of 2048 units of the em, and its line 1.164 em.
    const auto capital_mm = [](const Lettering& letters) { return letters.size_px / 1.164F * 1493.0F / 2048.0F / 3.73F; };
    Glass glass{1280.0F, 800.0F, {.px_per_mm = 3.73F}};
    for (auto& check : glass.world.job->checks)
        if (check.id == "coll-tilt") {
            check.outcome = measure::Outcome::DoesNotConform;
            check.missing_facts.clear();
        }
    glass.open_check("coll-tilt");
    glass.drafts.run.mode = RunMode::Correcting;
    glass.drafts.run.done = "packed the left foot with slate";
    glass.drafts.run.value = "0.4";
    glass.drafts.run.from_earlier = true;
    (void)glass.frame();
    (void)glass.frame();
    float above = 0.0F, save = 0.0F, corrected = 0.0F, value = 0.0F;
    for (const Lettering& letters : glass.probe.letters) {
        if (letters.words == "new reading, after the correction: typed before, NOT saved") above = capital_mm(letters);
        if (letters.path == "run/check/keypad/save" && letters.words == "Save") save = capital_mm(letters);
        if (letters.path == "run/check/keypad/save" && letters.words == "corrected") corrected = capital_mm(letters);
        if (letters.words == "0.4") value = capital_mm(letters);
    }
    // Of small words in full, and of words that are tasks; the word on the key is as wide as the key allows.
    CHECK(above > 3.0F);
    CHECK(save > 4.2F);
    CHECK(corrected > 2.3F);
    CHECK(value > 7.0F);
    CHECK(glass.says("NOT saved"));
    CHECK(glass.probe.cut_off == std::vector<std::string>{});
}
