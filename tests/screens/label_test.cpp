// Words that fit.
#include "screens/label.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("at 100, 150 and 200 percent no word of any screen is cut off") {
    for (const auto& [width, height] : {std::pair{1280.0F, 800.0F}, std::pair{800.0F, 1280.0F}}) {
        for (const int percent : {100, 150, 200}) {
            CAPTURE(width);
            CAPTURE(percent);
            Glass glass{width, height, {.px_per_mm = 3.78F, .text_percent = percent}};
            for (const std::string id :
                 {"anchor-torque", "discharge-pipe", "test-pressure", "test-hold"}) {
                CAPTURE(id);
                glass.open_check(id);
                CHECK(glass.probe.cut_off == std::vector<std::string>{});
            }
            for (const Screen screen :
                 {Screen::Jobs, Screen::SignOff, Screen::Outbox, Screen::Week, Screen::Settings}) {
                CAPTURE(static_cast<int>(screen));
                glass.drafts.screen = screen;
                (void)glass.frame();
                CHECK(glass.probe.cut_off == std::vector<std::string>{});
            }
        }
    }
}

TEST_CASE("the keypad and the value stay on the glass at 200 percent") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = 3.78F, .text_percent = 200}};
    glass.open_check("test-pressure");
    for (const std::string name : {"7", "8", "9", "0", ".", ",", "delete", "sign", "save"}) {
        CAPTURE(name);
        const Spot& spot = glass.spot("run/check/keypad/" + name);
        CHECK(spot.reachable);
        CHECK(spot.rect.bottom() <= 800.0F);
        CHECK(spot.rect.right() <= 1280.0F);
    }
}

namespace {

/// A lone field of that size, and what the probe heard of its words.
const Probe& hinted(Glass& glass, float width_mm, std::string text = {}, float height_mm = key_mm) {
    ImGui::NewFrame();
    ImGui::Begin("a lone field");
    Touch touch = begin_touch(glass.dress.theme, glass.dress.metrics, glass.dress.fonts, glass.drafts.attention, &glass.probe);
    (void)field(touch, "field", {0.0F, 0.0F, touch.mm(width_mm), touch.mm(height_mm)}, text, "Search: house, crew, job number, state");
    end_touch(touch);
    ImGui::End();
    ImGui::Render();
    return glass.probe;
}

}  // namespace

TEST_CASE("a hint too long for its field ends at a comma, and one that cannot be read whole is told of") {
    struct Row {
        float width_mm;
        const char* shown;
    };
    for (const int percent : {100, 200}) {
        CAPTURE(percent);
        Glass glass{1280.0F, 800.0F, {.px_per_mm = 5.88F, .text_percent = percent}};
        for (const Row& row : {Row{200.0F, "Search: house, crew, job number, state"}, Row{60.0F, "Search: house, crew"}, Row{34.0F, "Search: house"}}) {
            CAPTURE(row.width_mm);
            const Probe& probe = hinted(glass, row.width_mm);
            REQUIRE(probe.letters.size() == 1);
            CHECK(probe.letters.front().words == row.shown);
            CHECK(probe.letters.front().path == "field");
            CHECK(probe.cut_off == std::vector<std::string>{});
        }
        CHECK(hinted(glass, key_mm).cut_off == std::vector<std::string>{"field: Search: house"});
    }
}

TEST_CASE("a hint grows with the text size until its field is full") {
    float plain = 0.0F;
    for (const int percent : {100, 200}) {
        Glass glass{1280.0F, 800.0F, {.px_per_mm = 5.88F, .text_percent = percent}};
        const Probe& probe = hinted(glass, 200.0F);
        REQUIRE(probe.letters.size() == 1);
        const Lettering& shown = probe.letters.front();
        if (percent == 100) CHECK(shown.size_px == shown.wanted_px);
        else CHECK(shown.size_px > 1.2F * plain);
        plain = shown.size_px;
    }
}

TEST_CASE("a filled field keeps its hint as a caption above what is written, and nothing of either is clipped") {
    constexpr float px_per_mm = 5.88F;
    for (const Look look : {Look::Day, Look::Night, Look::Sun}) {
        float before = 0.0F;
        for (const int percent : {100, 150, 200}) {
            CAPTURE(static_cast<int>(look));
            CAPTURE(percent);
            Glass glass{1280.0F, 800.0F, {.px_per_mm = px_per_mm, .text_percent = percent}, look};
            const Probe& probe = hinted(glass, 200.0F, "Kettlemark");
            REQUIRE(probe.letters.size() == 2);
            const Lettering& caption = probe.letters[0];
            const Lettering& written = probe.letters[1];
            CHECK(caption.words == "Search: house, crew, job number, state");
            CHECK(written.words == "Kettlemark");
            // DejaVu's capitals are 1493 of 2048 units of the em, and its line 1.164 em.
            CHECK(caption.size_px / 1.164F * 1493.0F / 2048.0F >= 2.0F * px_per_mm);
            CHECK(caption.size_px < 0.7F * written.size_px);
            CHECK(caption.at.y >= 0.0F);
            CHECK(written.at.y >= caption.at.bottom() - 0.5F);
            CHECK(written.at.bottom() <= key_mm * px_per_mm);
            if (percent == 100) CHECK(written.size_px == written.wanted_px);
            else CHECK(written.size_px > before - 0.5F);
            before = written.size_px;
            CHECK(probe.cut_off == std::vector<std::string>{});
        }
        // What was written at 100 % in 7 mm.
        CHECK(before > 1.25F * 41.0F);
    }
}

TEST_CASE("a field that was squeezed keeps its caption, smaller above the words or in front of them") {
    constexpr float px_per_mm = 5.88F;
    for (const int percent : {100, 200}) {
        // 64 pixels on a ten-inch panel of 1280 by 800; and half a key.
        for (const float height_mm : {64.0F / px_per_mm, 9.0F, 7.0F}) {
            CAPTURE(percent);
            CAPTURE(height_mm);
            Glass glass{1280.0F, 800.0F, {.px_per_mm = px_per_mm, .text_percent = percent}};
            const Probe& probe = hinted(glass, 120.0F, "gutter clear", height_mm);
            REQUIRE(probe.letters.size() == 2);
            const Lettering& caption = probe.letters[0];
            const Lettering& written = probe.letters[1];
            CHECK(caption.words.starts_with("Search: house"));
            CHECK(written.words == "gutter clear");
            for (const Lettering& letters : probe.letters) {
                // DejaVu's capitals are 1493 of 2048 units of the em, and its line 1.164 em.
                CHECK(letters.size_px / 1.164F * 1493.0F / 2048.0F >= 2.0F * px_per_mm);
                CHECK(letters.at.y >= 0.0F);
                CHECK(letters.at.bottom() <= height_mm * px_per_mm + 0.5F);
            }
            CHECK((written.at.y >= caption.at.bottom() - 0.5F || written.at.x >= caption.at.right()));
            CHECK(probe.cut_off == std::vector<std::string>{});
        }
    }
}

TEST_CASE("the caption of a filled field grows with the text size as far as there is room") {
    std::vector<float> sizes;
    for (const auto& [percent, height_mm] : {std::pair{100, key_mm}, std::pair{200, key_mm}, std::pair{200, 20.0F}}) {
        Glass glass{1280.0F, 800.0F, {.px_per_mm = 5.88F, .text_percent = percent}};
        sizes.push_back(hinted(glass, 200.0F, "shims", height_mm).letters.at(0).size_px);
    }
    CHECK(sizes[1] > 1.1F * sizes[0]);
    CHECK(sizes[2] > 1.9F * sizes[0]);
}

TEST_CASE("a caption too long for its field ends at a comma like its hint") {
    Glass glass{1280.0F, 800.0F, {.px_per_mm = 5.88F}};
    const Probe& probe = hinted(glass, 34.0F, "Imber");
    REQUIRE(probe.letters.size() == 2);
    CHECK(probe.letters[0].words == "Search: house");
    CHECK(probe.letters[0].at.right() <= 32.0F * 5.88F + 1.0F);
    CHECK(probe.cut_off == std::vector<std::string>{});
}

TEST_CASE("in full sun a hint stands in small letters, as typed words never do") {
    for (const int percent : {100, 200}) {
        CAPTURE(percent);
        Glass glass{1280.0F, 800.0F, {.px_per_mm = 5.88F, .text_percent = percent}, Look::Sun};
        const float small = em_px(Face::Small, glass.dress.metrics);
        const Probe& probe = hinted(glass, 200.0F);
        REQUIRE(probe.letters.size() == 1);
        CHECK(probe.letters.front().size_px <= small);
        CHECK(probe.letters.front().size_px < 0.8F * em_px(Face::Body, glass.dress.metrics));
    }
}

TEST_CASE("the caption of a picture says what it is for, and a finger on its upper edge writes on in it") {
    for (const Look look : {Look::Day, Look::Sun}) {
        CAPTURE(static_cast<int>(look));
        Glass glass{1280.0F, 800.0F, {}, look};
        glass.open_check("nut-marks");
        glass.drafts.run.caption = "north edge";
        glass.read_first();
        (void)glass.frame();
        const std::string path = "run/check/photo/caption";
        const auto captioned = [&] {
            for (const Lettering& letters : glass.probe.letters)
                if (letters.path == path && letters.words == "what the picture shows") return true;
            return false;
        };
        CHECK(captioned());
        const Rect at = glass.spot(path).rect;
        glass.put_finger(at.right() - 4.0F, at.y + glass.dress.metrics.mm(1.5F));
        glass.lift_finger();
        glass.type(", second row");
        CHECK(glass.drafts.run.caption == "north edge, second row");
        // Below the field, where the library's line goes on unseen, nobody writes.
        (void)glass.frame();
        const Rect now = glass.spot(path).rect;
        glass.put_finger(now.x + 30.0F, now.bottom() + glass.dress.metrics.mm(1.5F));
        glass.lift_finger();
        glass.type("x");
        CHECK(glass.drafts.run.caption == "north edge, second row");
    }
}

TEST_CASE("whoever chose larger letters gets none that are smaller, however tight the key") {
    for (const float wide_mm : {14.0F, 16.0F, 20.0F, 26.0F, 34.0F, 60.0F}) {
        CAPTURE(wide_mm);
        float before = 0.0F;
        for (const int percent : {100, 150, 200}) {
            CAPTURE(percent);
            Glass glass{1280.0F, 800.0F, {.px_per_mm = 5.88F, .text_percent = percent}};
            ImGui::NewFrame();
            ImGui::Begin("a lone key");
            Touch touch = begin_touch(glass.dress.theme, glass.dress.metrics, glass.dress.fonts, glass.drafts.attention, &glass.probe);
            (void)key(touch, "key", {0.0F, 0.0F, touch.mm(wide_mm), touch.mm(key_mm)}, {.words = "Sign-off"});
            end_touch(touch);
            ImGui::End();
            ImGui::Render();
            REQUIRE(glass.probe.letters.size() == 1);
            CHECK(glass.probe.cut_off == std::vector<std::string>{});
            const float size = glass.probe.letters.front().size_px;
            CHECK(size >= before - 0.5F);
            // Of two millimetres at least: DejaVu's capitals are 1493 of 2048 units of the em, and its line 1.164 em.
            CHECK(size / 1.164F * 1493.0F / 2048.0F >= 2.0F * 5.88F - 0.01F);
            before = size;
        }
        if (wide_mm > 50.0F) CHECK(before > 1.5F * 41.0F);
    }
}
