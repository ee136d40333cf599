// Keys in millimetres, focus by keyboard, acting on release.
#include "screens/touch.hpp"

#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

namespace {

struct Panel {
    float width;
    float height;
    float px_per_mm;
};

// A desk monitor, a ten inch tablet and a dense one, lying and standing.
constexpr Panel panels[] = {{1280, 800, 3.78F}, {800, 1280, 3.78F},  {1280, 800, 5.9F},
                            {800, 1280, 5.9F},  {2560, 1600, 11.8F}, {1600, 2560, 11.8F}};

const std::string checks[] = {"anchor-torque", "discharge-pipe", "fall-protection", "test-pressure",
                              "test-hold",     "goods-scan",     "nut-marks",       "open-items"};

float least_mm(SpotKind kind) {
    switch (kind) {
        case SpotKind::Digit:
        case SpotKind::Answer:
            return strong_key_mm;
        case SpotKind::Key:
        case SpotKind::Field:
        case SpotKind::Pad:
            return key_mm;
        case SpotKind::Pin:
            return 0.0F;
    }
    return 0.0F;
}

bool overlap(const Rect& a, const Rect& b) {
    constexpr float hair = 0.5F;
    return a.x + hair < b.right() && b.x + hair < a.right() && a.y + hair < b.bottom() &&
           b.y + hair < a.bottom();
}

void check_sizes(Glass& glass) {
    for (const auto& [name, spot] : glass.probe.spots) {
        CAPTURE(name);
        const float least = glass.dress.metrics.mm(least_mm(spot.kind)) - 1.0F;
        CHECK(spot.rect.w >= least);
        CHECK(spot.rect.h >= least);
    }
}

void check_apart(Glass& glass) {
    const auto& spots = glass.probe.spots;
    for (auto a = spots.begin(); a != spots.end(); ++a) {
        if (!a->second.reachable || a->second.kind == SpotKind::Pin) continue;
        for (auto b = std::next(a); b != spots.end(); ++b) {
            if (!b->second.reachable || b->second.kind == SpotKind::Pin) continue;
            CAPTURE(a->first);
            CAPTURE(b->first);
            const bool same_list =
                a->first.substr(0, a->first.rfind('/')) == b->first.substr(0, b->first.rfind('/'));
            if (same_list) CHECK_FALSE(overlap(a->second.rect, b->second.rect));
        }
    }
}

constexpr float density = 3.78F;

void turn(Glass& glass, float width, float height) {
    ImGui::GetIO().DisplaySize = {width, height};
    glass.dress.metrics = fitted({.px_per_mm = density}, width, height);
    (void)glass.frame();
}

/// All that is seen of the keys: where they lie, what stands on them, and whether they answer.
std::vector<std::string> seen_keys(const Glass& glass) {
    std::vector<std::string> seen;
    for (const auto& [name, spot] : glass.probe.spots)
        seen.push_back(name + " " + std::to_string(spot.rect.x) + " " + std::to_string(spot.rect.y) + " " + std::to_string(spot.rect.w) + " " +
                       std::to_string(spot.rect.h) + (spot.enabled ? " " : " blocked ") + spot.words + "/" + spot.small);
    return seen;
}

}  // namespace

TEST_CASE("digits and answers are 20 mm and all other keys 14 mm on every panel and check") {
    for (const Panel& panel : panels) {
        CAPTURE(panel.width);
        CAPTURE(panel.px_per_mm);
        Glass glass{panel.width, panel.height, {.px_per_mm = panel.px_per_mm}};
        for (const std::string& id : checks) {
            CAPTURE(id);
            glass.open_check(id);
            check_sizes(glass);
            check_apart(glass);
            CHECK(glass.probe.twice.empty());
        }
    }
}

TEST_CASE("the other screens keep their key sizes too") {
    for (const Panel& panel : panels) {
        CAPTURE(panel.width);
        CAPTURE(panel.px_per_mm);
        Glass glass{panel.width, panel.height, {.px_per_mm = panel.px_per_mm}};
        for (const Screen screen :
             {Screen::Jobs, Screen::SignOff, Screen::Outbox, Screen::Week, Screen::Settings}) {
            CAPTURE(static_cast<int>(screen));
            glass.drafts.screen = screen;
            (void)glass.frame();
            (void)glass.frame();
            check_sizes(glass);
            check_apart(glass);
            CHECK(glass.probe.twice.empty());
        }
    }
}

TEST_CASE("keypad keys stand 3 mm apart") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("anchor-torque");
    const Rect seven = glass.spot("run/check/keypad/7").rect;
    const Rect eight = glass.spot("run/check/keypad/8").rect;
    const Rect four = glass.spot("run/check/keypad/4").rect;
    const float gap = glass.dress.metrics.mm(gap_mm) - 0.5F;
    CHECK(eight.x - seven.right() >= gap);
    CHECK(four.y - seven.bottom() >= gap);
}

TEST_CASE("a key acts when the finger leaves it, not when it lands") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    glass.read_first();
    const Rect yes = glass.spot("run/check/yes").rect;
    glass.put_finger(yes.x + yes.w / 2.0F, yes.y + yes.h / 2.0F);
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    glass.lift_finger();
    CHECK(glass.last_intent<desk::TakeReading>() != nullptr);
}

TEST_CASE("a finger that slides off a key does nothing") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    const Rect yes = glass.spot("run/check/yes").rect;
    glass.put_finger(yes.x + yes.w / 2.0F, yes.y + yes.h / 2.0F);
    glass.move_finger(yes.x + yes.w / 2.0F, yes.y - 60.0F);
    glass.lift_finger();
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
}

TEST_CASE("Tab walks through every key and Space presses the ringed one") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    const std::size_t count = glass.drafts.attention.order.size();
    REQUIRE(count > 10);
    bool reached = false;
    for (std::size_t i = 0; i < count && !reached; ++i) {
        glass.strike(GLFW_KEY_TAB);
        reached = glass.drafts.attention.at == "run/check/no";
    }
    REQUIRE(reached);
    glass.strike(GLFW_KEY_SPACE);
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "no");
}

TEST_CASE("letters typed into a field arrive whole, accents and all") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("goods-scan");
    REQUIRE(glass.press("run/check/text"));
    glass.type("SN-4711 Žürich Ж");
    CHECK(glass.drafts.run.value == "SN-4711 Žürich Ж");
    REQUIRE(glass.press("run/check/save"));
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "SN-4711 Žürich Ж");
}

TEST_CASE("digits typed into a text field are not taken for keys of a screen") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.drafts.screen = Screen::Jobs;
    REQUIRE(glass.press("jobs/search"));
    glass.type("lower 3");
    CHECK(glass.drafts.jobs.search == "lower 3");
}

TEST_CASE("a finger that came down on one check does not answer the next") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    glass.read_first();
    static_cast<void>(glass.frame());
    const Rect at = glass.spot("run/check/yes").rect;
    glass.put_finger(at.x + at.w / 2.0F, at.y + at.h / 2.0F);
    // The first tap is saved meanwhile, and the run goes on.
    glass.drafts.run.go_to = "roof-clear";
    static_cast<void>(glass.frame());
    REQUIRE(glass.shows("run/check/yes"));
    glass.lift_finger();
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    // Who has read it answers.
    REQUIRE(glass.press("run/check/yes"));
    const auto* answer = glass.last_intent<desk::TakeReading>();
    REQUIRE(answer != nullptr);
    CHECK(answer->check == "roof-clear");
}

TEST_CASE("Tab goes from a field that a finger chose to the next one, not to the top of the window") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("roof-clear");
    glass.drafts.run.mode = RunMode::Leaving;
    const auto fields = [&] {
        static_cast<void>(glass.frame());
        std::vector<std::string> paths;
        for (const std::string& path : glass.drafts.attention.order)
            if (glass.spot(path).kind == SpotKind::Field) paths.push_back(path);
        return paths;
    }();
    REQUIRE(fields.size() >= 2);
    REQUIRE(glass.press(fields[0]));
    glass.strike(GLFW_KEY_TAB);
    CHECK(glass.drafts.attention.at == fields[1]);
}

TEST_CASE("a finger on any key while the glass is turned or widened presses nothing, and all lies as it should afterwards") {
    struct Place {
        Screen screen;
        const char* check;
    };
    constexpr Place places[] = {
        {Screen::Jobs, ""}, {Screen::Run, "fall-protection"}, {Screen::Run, "anchor-torque"}, {Screen::SignOff, ""}};
    // By a hair the same key stays under the finger; standing up, another one or none comes to lie there.
    constexpr std::pair<float, float> turned[] = {{1284, 802}, {800, 1280}};
    for (const Place& place : places) {
        CAPTURE(static_cast<int>(place.screen));
        CAPTURE(place.check);
        Glass glass{1280.0F, 800.0F, {.px_per_mm = density}};
        if (place.screen == Screen::Run) glass.open_check(place.check);
        glass.drafts.screen = place.screen;
        for (int i = 0; i < 3; ++i) (void)glass.frame();
        std::vector<std::string> names;
        for (const auto& [name, spot] : glass.probe.spots)
            if (spot.reachable && spot.kind != SpotKind::Field && spot.kind != SpotKind::Pad) names.push_back(name);
        REQUIRE(names.size() > 10);
        for (const auto& [width, height] : turned) {
            CAPTURE(width);
            turn(glass, width, height);
            (void)glass.frame();
            (void)glass.frame();
            const auto untouched = seen_keys(glass);
            turn(glass, 1280.0F, 800.0F);
            for (const std::string& name : names) {
                CAPTURE(name);
                glass.read_first();
                (void)glass.frame();
                const Rect at = glass.spot(name).rect;
                glass.put_finger(at.x + at.w / 2.0F, at.y + at.h / 2.0F);
                turn(glass, width, height);
                glass.lift_finger();
                CHECK(seen_keys(glass) == untouched);
                CHECK(glass.drafts.screen == place.screen);
                CHECK(glass.drafts.run.value.empty());
                turn(glass, 1280.0F, 800.0F);
            }
        }
        for (const Request& request : glass.all) CHECK_FALSE(std::holds_alternative<desk::Intent>(request));
    }
}

TEST_CASE("the check at hand stays in sight in its list when the glass is turned") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = density}};
    for (int i = 0; i < 20; ++i)
        glass.world.job->checks.push_back(testing::check("more-" + std::to_string(i), "A", "One more look", desk::EntryForm::YesNo));
    glass.open_check("more-12");
    for (int i = 0; i < 4; ++i) (void)glass.frame();
    const std::string row = "run/list/rows/more-12";
    REQUIRE(glass.spot(row).reachable);
    for (const auto& [width, height] : {std::pair{800.0F, 1280.0F}, {1280.0F, 800.0F}}) {
        CAPTURE(width);
        turn(glass, width, height);
        for (int i = 0; i < 3; ++i) (void)glass.frame();
        CHECK(glass.spot(row).reachable);
        // The list is longer than its place: without being brought there it would not be seen for sure.
        CHECK_FALSE(glass.spot("run/list/rows/more-0").reachable);
    }
}

TEST_CASE("the glass may be sized in the very frame in which the finger leaves or comes down") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = density}};
    glass.open_check("fall-protection");
    glass.read_first();
    (void)glass.frame();
    const Rect yes = glass.spot("run/check/yes").rect;
    glass.put_finger(yes.x + yes.w / 2.0F, yes.y + yes.h / 2.0F);
    ImGui::GetIO().MouseDown[0] = false;
    turn(glass, 1284.0F, 802.0F);
    (void)glass.frame();
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    glass.read_first();
    (void)glass.frame();
    ImGui::GetIO().MouseDown[0] = true;
    turn(glass, 1280.0F, 800.0F);
    glass.lift_finger();
    CHECK(glass.last_intent<desk::TakeReading>() == nullptr);
    // Who looks at it as it lies now is heard.
    REQUIRE(glass.press("run/check/yes"));
    CHECK(glass.last_intent<desk::TakeReading>() != nullptr);
}

TEST_CASE("a stroke of a signature ends where the glass is turned: no line leads across the pad") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = density}};
    glass.drafts.screen = Screen::SignOff;
    (void)glass.frame();
    (void)glass.frame();
    const Rect pad = glass.spot("sign/pad").rect;
    glass.put_finger(pad.x + 20.0F, pad.y + 30.0F);
    glass.move_finger(pad.x + 60.0F, pad.y + 40.0F);
    REQUIRE(glass.drafts.sign.strokes.size() == 1);
    const auto before = glass.drafts.sign.strokes.front().size();
    REQUIRE(before >= 2);
    turn(glass, 800.0F, 1280.0F);
    const Rect now = glass.spot("sign/pad").rect;
    glass.move_finger(now.x + 50.0F, now.y + 50.0F);
    glass.move_finger(now.x + 90.0F, now.y + 20.0F);
    glass.lift_finger();
    REQUIRE(glass.drafts.sign.strokes.size() == 1);
    CHECK(glass.drafts.sign.strokes.front().size() == before);
    // The next one is a stroke of its own.
    glass.put_finger(now.x + 30.0F, now.y + 30.0F);
    glass.lift_finger();
    CHECK(glass.drafts.sign.strokes.size() == 2);
}
