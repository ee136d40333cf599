// Plant drawing and list of checks.
#include "screens/plant_panel.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <set>

#include "desk/paper_journal.hpp"
#include "handover/report_pages.hpp"
#include "handover/testing.hpp"
#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("every check that applies has a mark on the drawing, and touching it goes there") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    for (const desk::CheckView& check : glass.world.job->checks) {
        CAPTURE(check.id);
        CHECK(glass.shows("run/plant/" + check.id));
    }
    REQUIRE(glass.press("run/plant/discharge-pipe"));
    CHECK(glass.drafts.run.check == "discharge-pipe");
}

TEST_CASE("a row of the list goes to its check") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    REQUIRE(glass.press("run/list/rows/goods-scan"));
    CHECK(glass.drafts.run.check == "goods-scan");
}

TEST_CASE("all that is open can be listed, whatever its stage") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    CHECK_FALSE(glass.shows("run/list/rows/test-hold"));
    REQUIRE(glass.press("run/list/all open"));
    (void)glass.frame();
    CHECK(glass.shows("run/list/rows/test-hold"));
    CHECK_FALSE(glass.shows("run/list/rows/power-locked"));
}

namespace {

/// A touch in the middle between two marks, by a hand that has read what is there.
void touch_between(Glass& glass, const std::string& one, const std::string& other) {
    glass.read_first();
    (void)glass.frame();
    REQUIRE(glass.shows(one));
    REQUIRE(glass.shows(other));
    const Rect a = glass.spot(one).rect;
    const Rect b = glass.spot(other).rect;
    CHECK(std::hypot(a.x - b.x, a.y - b.y) < glass.dress.metrics.mm(14.0F));
    glass.put_finger((a.x + b.x + a.w) / 2.0F, (a.y + b.y + a.h) / 2.0F);
    glass.lift_finger();
}

std::string letters_at(Glass& glass, const std::string& path) {
    std::string all;
    for (const Lettering& lettering : glass.probe.letters)
        if (lettering.path == path) all += lettering.words + " ";
    return all;
}

}  // namespace

TEST_CASE("a touch that two marks may be meant by lists both, and a row goes to its check") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    touch_between(glass, "run/plant/test-pressure", "run/plant/test-hold");
    (void)glass.frame();
    CHECK(glass.drafts.run.check == "fall-protection");
    for (const std::string id : {"test-pressure", "test-hold"}) {
        CAPTURE(id);
        REQUIRE(glass.shows("run/list/rows/" + id));
        const Spot& row = glass.spot("run/list/rows/" + id);
        CHECK(row.rect.h >= glass.dress.metrics.mm(14.0F) - 1.0F);
        for (const desk::CheckView& check : glass.world.job->checks)
            if (check.id == id) CHECK(row.words.find(check.title) != std::string::npos);
        CHECK(letters_at(glass, "run/list/rows/" + id).find("open") != std::string::npos);
    }
    CHECK_FALSE(glass.shows("run/list/rows/power-locked"));
    REQUIRE(glass.press("run/list/rows/test-hold"));
    CHECK(glass.drafts.run.check == "test-hold");
    CHECK(glass.drafts.run.plant.nearby.empty());
}

TEST_CASE("the list of marks goes away without a choice") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    touch_between(glass, "run/plant/test-pressure", "run/plant/test-hold");
    REQUIRE(glass.press("run/list/whole stage"));
    (void)glass.frame();
    CHECK(glass.shows("run/list/rows/power-locked"));
    CHECK_FALSE(glass.shows("run/list/rows/test-hold"));
    CHECK(glass.drafts.run.check == "fall-protection");
}

TEST_CASE("where the drawing stands alone the marks to choose from are listed with it") {
    // Upright the list stands below the drawing; lying it takes its place, for half of it is too narrow for titles.
    for (const bool upright : {true, false}) {
        CAPTURE(upright);
        Glass glass{upright ? 800.0F : 1280.0F, upright ? 1280.0F : 800.0F, {.px_per_mm = 5.9F, .text_percent = upright ? 100 : 200}};
        glass.open_check("fall-protection");
        glass.drafts.run.mode = RunMode::Plant;
        (void)glass.frame();
        touch_between(glass, "run/sheet/test-pressure", "run/sheet/test-hold");
        (void)glass.frame();
        CHECK(glass.drafts.run.check == "fall-protection");
        CHECK(glass.shows("run/sheet/test-hold") == upright);
        for (const std::string id : {"test-pressure", "test-hold"}) {
            CAPTURE(id);
            REQUIRE(glass.shows("run/sheet/near/rows/" + id));
            CHECK(glass.spot("run/sheet/near/rows/" + id).rect.h >= glass.dress.metrics.mm(14.0F) - 1.0F);
        }
        REQUIRE(glass.press("run/sheet/near/close"));
        (void)glass.frame();
        CHECK_FALSE(glass.shows("run/sheet/near/rows/test-hold"));
        touch_between(glass, "run/sheet/test-pressure", "run/sheet/test-hold");
        REQUIRE(glass.press("run/sheet/near/rows/test-pressure"));
        CHECK(glass.drafts.run.check == "test-pressure");
        CHECK(glass.drafts.run.mode == RunMode::Reading);
    }
}

TEST_CASE("a mark that stands alone is met by a finger of 14 mm, from every side") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    for (const desk::CheckView& check : glass.world.job->checks) {
        CAPTURE(check.id);
        CHECK(glass.spot("run/plant/" + check.id).rect.w == doctest::Approx(glass.dress.metrics.mm(14.0F)).epsilon(0.001));
    }
    const float mm = glass.dress.metrics.mm(1.0F);
    for (int side = 0; side < 8; ++side) {
        for (const float away_mm : {6.6F, 7.6F}) {
            CAPTURE(side);
            CAPTURE(away_mm);
            glass.open_check("fall-protection");
            glass.read_first();
            (void)glass.frame();
            const Rect at = glass.spot("run/plant/discharge-pipe").rect;
            const float angle = static_cast<float>(side) * 0.7853982F;
            glass.put_finger(at.x + at.w / 2.0F + away_mm * mm * std::cos(angle), at.y + at.h / 2.0F + away_mm * mm * std::sin(angle));
            glass.lift_finger();
            CHECK(glass.drafts.run.check == (away_mm < 7.0F ? "discharge-pipe" : "fall-protection"));
        }
    }
}

TEST_CASE("the window draws the plant that the report draws") {
    // The words of the drawing stand for its parts: each is drawn only with the part it names, and is no word of the list beside it.
    const std::vector<std::string> words = {"relief pipe, open at its end", "open vent", "clay tile", "slate", "not known: feed",
                                            "not known: kind, feed, place of the store, controller, roof covering"};
    struct House {
        std::string more;
        std::vector<std::string> without;
        int says;  ///< how many of the words
    };
    const std::vector<House> houses = {
        {"", {}, 2},
        {"sys.feed = \"vented\"\n", {"sys.feed"}, 2},
        {"roof.covering = \"slate\"\n", {"roof.covering"}, 2},
        {"", {"sys.feed"}, 2},
        {"", {"sys.kind", "sys.feed", "sys.geometry", "sys.controller", "roof.covering"}, 1},
    };
    for (const House& house : houses) {
        std::string facts = desk::testing::house_facts(house.more + desk::testing::tools());
        for (const std::string& key : house.without) {
            const auto at = facts.find(key + " = ");
            REQUIRE(at != std::string::npos);
            facts.erase(at, facts.find('\n', at) + 1 - at);
        }
        CAPTURE(facts);
        const desk::testing::PaperJournal journal{facts, "commissioning"};
        handover::testing::RecordedBook book;
        handover::Flow flow{book, handover::PaperSize::A4, {"", "", ""}};
        handover::pour_plant(flow, journal.report());
        std::set<std::string> on_paper;
        for (const auto& leaf : book.leaves)
            for (const auto& text : drawing::texts_of(*leaf)) on_paper.insert(text.words);
        Glass glass{1280.0F, 800.0F, {}};
        glass.world.job = journal.view();
        glass.open_check("fall-protection");
        glass.drafts.run.mode = RunMode::Plant;
        glass.drafts.run.plant.zoom = 2.0F;
        (void)glass.frame();
        std::set<std::string> on_glass;
        for (const Lettering& lettering : glass.probe.letters)
            if (lettering.path == "run/sheet") on_glass.insert(lettering.words);
        int said = 0;
        for (const std::string& word : words) {
            CAPTURE(word);
            CHECK(on_paper.contains(word) == on_glass.contains(word));
            said += on_glass.contains(word) ? 1 : 0;
        }
        CHECK(said == house.says);
    }
}

namespace {

/// An upright panel with the drawing alone.
void open_sheet(Glass& glass) {
    glass.open_check("fall-protection");
    glass.drafts.run.mode = RunMode::Plant;
    (void)glass.frame();
    (void)glass.frame();
}

struct Place {
    float x, y;
};
Place middle_of(Glass& glass, const std::string& name) {
    REQUIRE(glass.shows(name));
    const Rect at = glass.spot(name).rect;
    return {at.x + at.w / 2.0F, at.y + at.h / 2.0F};
}

float between_mm(Glass& glass, const std::string& one, const std::string& other) {
    const Place a = middle_of(glass, one);
    const Place b = middle_of(glass, other);
    return std::hypot(a.x - b.x, a.y - b.y) / glass.dress.metrics.mm(1.0F);
}

}  // namespace

TEST_CASE("the drawing is enlarged by half with each step, to four times, and no further") {
    Glass glass{800.0F, 1280.0F, {.px_per_mm = 5.9F}};
    open_sheet(glass);
    const PlantDraft& draft = glass.drafts.run.plant;
    CHECK_FALSE(glass.spot("run/sheet/smaller").enabled);
    CHECK_FALSE(glass.spot("run/sheet/whole").enabled);
    const float apart = between_mm(glass, "run/sheet/anchor-torque", "run/sheet/test-pressure");
    for (const float zoom : {1.5F, 2.25F, 3.375F, 4.0F}) {
        CAPTURE(zoom);
        CHECK(glass.spot("run/sheet/larger").enabled);
        REQUIRE(glass.press("run/sheet/larger"));
        CHECK(draft.zoom == doctest::Approx(zoom));
        if (zoom == 1.5F)
            CHECK(between_mm(glass, "run/sheet/anchor-torque", "run/sheet/test-pressure") == doctest::Approx(1.5F * apart).epsilon(0.01));
    }
    (void)glass.frame();
    CHECK_FALSE(glass.spot("run/sheet/larger").enabled);
    REQUIRE(glass.press("run/sheet/larger"));
    CHECK(draft.zoom == 4.0F);
    for (const float zoom : {4.0F / 1.5F, 4.0F / 2.25F, 4.0F / 3.375F, 1.0F}) {
        CAPTURE(zoom);
        REQUIRE(glass.press("run/sheet/smaller"));
        CHECK(draft.zoom == doctest::Approx(zoom));
    }
    REQUIRE(glass.press("run/sheet/smaller"));
    CHECK(draft.zoom == 1.0F);
    CHECK(between_mm(glass, "run/sheet/anchor-torque", "run/sheet/test-pressure") == doctest::Approx(apart));
}

TEST_CASE("a finger moves what is enlarged, chooses nothing by it, and Whole brings all back") {
    Glass glass{800.0F, 1280.0F, {.px_per_mm = 5.9F}};
    open_sheet(glass);
    const PlantDraft& draft = glass.drafts.run.plant;
    const Place before = middle_of(glass, "run/sheet/test-pressure");
    REQUIRE(glass.press("run/sheet/larger"));
    (void)glass.frame();
    const Place enlarged = middle_of(glass, "run/sheet/test-pressure");
    const Rect seen = glass.spot("run/sheet/drawing").rect;
    const float mm = glass.dress.metrics.mm(1.0F);
    const Place finger{seen.x + seen.w / 2.0F, seen.y + seen.h / 2.0F};
    glass.put_finger(finger.x, finger.y);
    glass.move_finger(finger.x - 10.0F * mm, finger.y + 8.0F * mm);
    glass.lift_finger();
    const Place moved = middle_of(glass, "run/sheet/test-pressure");
    CHECK(std::abs(moved.x - (enlarged.x - 10.0F * mm)) < 1.0F);
    CHECK(std::abs(moved.y - (enlarged.y + 8.0F * mm)) < 1.0F);
    CHECK(glass.drafts.run.check == "fall-protection");
    CHECK_FALSE(draft.part.has_value());
    CHECK(draft.nearby.empty());
    // Its edges stop at the edges of the panel.
    glass.put_finger(seen.x + 1.0F, finger.y);
    glass.move_finger(seen.right() - 1.0F, finger.y);
    glass.lift_finger();
    CHECK(draft.left_mm == 0.0F);
    for (int i = 0; i < 2; ++i) {
        glass.put_finger(seen.right() - 1.0F, seen.bottom() - 1.0F);
        glass.move_finger(seen.x + 1.0F, seen.y + 1.0F);
        glass.lift_finger();
    }
    CHECK(draft.left_mm == doctest::Approx(0.5F * seen.w / mm).epsilon(0.001));
    CHECK(draft.top_mm == doctest::Approx(0.5F * seen.h / mm).epsilon(0.001));
    REQUIRE(glass.press("run/sheet/whole"));
    (void)glass.frame();
    CHECK(draft.zoom == 1.0F);
    const Place after = middle_of(glass, "run/sheet/test-pressure");
    CHECK(std::abs(after.x - before.x) < 0.5F);
    CHECK(std::abs(after.y - before.y) < 0.5F);
}

TEST_CASE("a finger that trembles by less than 2 mm still chooses the mark") {
    Glass glass{800.0F, 1280.0F, {.px_per_mm = 5.9F}};
    open_sheet(glass);
    glass.read_first();
    (void)glass.frame();
    const Place mark = middle_of(glass, "run/sheet/discharge-pipe");
    glass.put_finger(mark.x, mark.y);
    glass.move_finger(mark.x + glass.dress.metrics.mm(1.5F), mark.y);
    glass.lift_finger();
    CHECK(glass.drafts.run.check == "discharge-pipe");
}

TEST_CASE("no name in the drawing is out of reach: all come with an enlargement, and a tap on any mark gives its check or names it") {
    // 10.1 inch of 16:10 is 217.5 by 136.0 mm. Letters of an em below 1.5 mm are left out; a line is 1.164 em, in DejaVu.
    constexpr float px_per_mm = 1280.0F / 217.5F;
    int left_out = 0;
    for (const bool lying : {true, false}) {
        for (const int percent : {100, 200}) {
            CAPTURE(lying);
            CAPTURE(percent);
            Glass glass{lying ? 1280.0F : 800.0F, lying ? 800.0F : 1280.0F, {.px_per_mm = px_per_mm, .text_percent = percent}};
            const auto open_drawing = [&](const std::string& from, float zoom) {
                glass.open_check(from);
                glass.drafts.run.plant = PlantDraft{};
                glass.drafts.run.plant.zoom = zoom;
                glass.drafts.run.mode = RunMode::Plant;
                (void)glass.frame();
            };
            const auto names_drawn = [&] {
                std::set<std::string> names;
                for (const Lettering& letters : glass.probe.letters)
                    if (letters.path == "run/sheet" && letters.size_px >= 1.5F * 1.164F * px_per_mm - 0.1F) names.insert(letters.words);
                return names;
            };
            open_drawing("fall-protection", 1.0F);
            const std::set<std::string> at_first = names_drawn();
            open_drawing("fall-protection", 2.25F);
            const std::set<std::string> enlarged = names_drawn();
            for (const desk::CheckView& check : glass.world.job->checks) {
                CAPTURE(check.id);
                const std::string name{figures::name_of(figures::station_of(check.id))};
                CHECK(enlarged.contains(name));
                left_out += at_first.contains(name) ? 0 : 1;
                const std::string from = check.id == "fall-protection" ? "goods-scan" : "fall-protection";
                open_drawing(from, 1.0F);
                REQUIRE(glass.press("run/sheet/" + check.id));
                (void)glass.frame();
                if (glass.drafts.run.check == check.id) continue;
                CHECK(glass.drafts.run.check == from);
                const std::string row = "run/sheet/near/rows/" + check.id;
                REQUIRE(glass.shows(row));
                CHECK(glass.spot(row).words.find(check.title) != std::string::npos);
            }
        }
    }
    // Or the enlargement would have had nothing to show.
    CHECK(left_out > 0);
}
