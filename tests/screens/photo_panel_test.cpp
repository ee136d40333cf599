// Pictures.
#include "screens/photo_panel.hpp"

#include <doctest/doctest.h>

#include "screens/testing.hpp"

using namespace wm;
using namespace wm::screens;
using wm::screens::testing::Glass;

TEST_CASE("a photo check is saved with the picture that was chosen") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("nut-marks");
    CHECK_FALSE(glass.spot("run/check/photo/save").enabled);
    REQUIRE(glass.press("run/check/photo/pictures/pictures/090.jpg"));
    REQUIRE(glass.press("run/check/photo/save"));
    const auto* with = glass.last<WithPhoto>();
    REQUIRE(with != nullptr);
    CHECK(with->path == "pictures/090.jpg");
}

TEST_CASE("a picture chosen beforehand goes with the answer") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("fall-protection");
    REQUIRE(glass.press("run/photo"));
    REQUIRE(glass.press("run/photo/pictures/pictures/091.jpg"));
    REQUIRE(glass.press("run/photo/use"));
    REQUIRE(glass.press("run/check/yes"));
    const auto* with = glass.last<WithPhoto>();
    REQUIRE(with != nullptr);
    CHECK(with->path == "pictures/091.jpg");
    CHECK(std::get<desk::TakeReading>(with->intent).text == "yes");
}

namespace {

std::vector<std::string> looks_asked(const Glass& glass) {
    std::vector<std::string> paths;
    for (const Request& request : glass.all)
        if (const auto* look = std::get_if<AskLookOf>(&request)) paths.push_back(look->path);
    return paths;
}

SharedPicture picture_of(int width, int height) {
    return std::make_shared<SmallPicture>(
        SmallPicture{width, height, std::vector<std::uint8_t>(static_cast<std::size_t>(width * height) * 3, 120)});
}

}  // namespace

TEST_CASE("how pictures look is asked one after the other, and anew when the folder was looked at") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("nut-marks");
    for (int i = 0; i < 5; ++i) static_cast<void>(glass.frame());
    CHECK(looks_asked(glass) == std::vector<std::string>{"pictures/091.jpg"});
    glass.world.photo_looks["pictures/091.jpg"] = picture_of(4, 3);
    for (int i = 0; i < 3; ++i) static_cast<void>(glass.frame());
    CHECK(looks_asked(glass).back() == "pictures/090.jpg");
    // A camera uses its names again: what was seen before does not count.
    glass.world.photo_looks.clear();
    ++glass.world.folder_looks;
    for (int i = 0; i < 3; ++i) static_cast<void>(glass.frame());
    CHECK(looks_asked(glass) == std::vector<std::string>{"pictures/091.jpg", "pictures/090.jpg", "pictures/091.jpg"});
}

TEST_CASE("a picture stands beside its name, and a file that is none says so") {
    Glass glass{1280.0F, 800.0F, {}};
    std::vector<int> drawn;
    glass.dress.texture_of = [&](const SharedPicture& picture) {
        drawn.push_back(picture->width);
        return std::uint64_t{7};
    };
    glass.world.photo_looks["pictures/091.jpg"] = picture_of(40, 30);
    glass.world.photo_looks["pictures/090.jpg"] = std::make_shared<SmallPicture>();
    glass.open_check("nut-marks");
    drawn.clear();
    static_cast<void>(glass.frame());
    CHECK(drawn == std::vector<int>{40});
    CHECK(glass.says("cannot be read"));
    glass.world.photo_looks["pictures/090.jpg"] = picture_of(30, 40);
    glass.probe.texts.clear();
    static_cast<void>(glass.frame());
    CHECK_FALSE(glass.says("cannot be read"));
}

TEST_CASE("where pictures come from is chosen as soon as there is a choice, and what is chosen is shown") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("nut-marks");
    CHECK_FALSE(glass.shows("run/check/photo/pictures/from this device"));
    glass.world.photos = {.folder = "photos", .is_own = true, .there = {{"", "This device"}, {"/media/orla/ROOFCAM/DCIM", "ROOFCAM"}}, .gone = "", .more = true};
    REQUIRE(glass.press("run/check/photo/pictures/from /media/orla/ROOFCAM/DCIM"));
    REQUIRE(glass.last<ChoosePhotoFolder>() != nullptr);
    CHECK(glass.last<ChoosePhotoFolder>()->path == "/media/orla/ROOFCAM/DCIM");
    glass.world.photos.folder = "/media/orla/ROOFCAM/DCIM";
    glass.world.photos.is_own = false;
    REQUIRE(glass.press("run/check/photo/pictures/from this device"));
    CHECK(glass.last<ChoosePhotoFolder>()->path.empty());
    CHECK(glass.says("There are more pictures than can be shown here."));
}

TEST_CASE("a card that is pulled is told, and takes neither the picture that was chosen nor its words along") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.world.photo_files = {"/card/DCIM/ROOF0001.JPG"};
    glass.world.photos = {.folder = "/card/DCIM", .is_own = false, .there = {{"", "This device"}, {"/card/DCIM", "card"}}, .gone = "", .more = false};
    glass.open_check("nut-marks");
    REQUIRE(glass.press("run/check/photo/pictures//card/DCIM/ROOF0001.JPG"));
    glass.drafts.run.caption = "north edge";
    CHECK_FALSE(glass.says("Chosen: "));
    glass.world.photo_files = {"pictures/091.jpg"};
    glass.world.photos = {.folder = "pictures", .is_own = true, .there = {{"", "This device"}}, .gone = "/card/DCIM", .more = false};
    ++glass.world.folder_looks;
    (void)glass.frame();
    CHECK(glass.says("This folder is not there now, as when a card was pulled: /card/DCIM"));
    CHECK(glass.says("Chosen: /card/DCIM/ROOF0001.JPG"));
    REQUIRE(glass.press("run/check/photo/save"));
    const auto* with = glass.last<WithPhoto>();
    REQUIRE(with != nullptr);
    CHECK(with->path == "/card/DCIM/ROOF0001.JPG");
    CHECK(std::get<desk::TakeReading>(with->intent).text == "yes");
    CHECK(std::get<desk::TakeReading>(with->intent).caption == "north edge");
}

TEST_CASE("few pictures leave their room to the question: a caution is read whole on a wide panel") {
    // 343 by 214 mm: wide enough for the drawing beside the check.
    Glass glass{1280.0F, 800.0F, {.px_per_mm = 3.73F}};
    for (auto& check : glass.world.job->checks) {
        if (check.id != "nut-marks") continue;
        check.question = "Is no tile, slate or sheet cracked, lifted or missing, and are the gutters clear?";
        check.limits.text = "The whole work area, covering sound, gutter clear";
        check.cautions = {{"C-BRITTLE", "Coverings that break underfoot",
                           "Aged tiles, fibre-cement sheets and rooflights give way under a foot. Lay crawl boards across the rafters."}};
    }
    glass.open_check("nut-marks");
    (void)glass.frame();
    bool is_whole = false;
    for (const Lettering& letters : glass.probe.letters)
        if (letters.words.starts_with("⚠ Coverings")) is_whole = letters.seen.h >= letters.at.h - 0.5F;
    CHECK(is_whole);
    // And no picture is pushed out of sight for it.
    const Rect caption = glass.spot("run/check/photo/caption").rect;
    for (const std::string name : {"091", "090", "089"}) {
        const Spot& tile = glass.spot("run/check/photo/pictures/pictures/" + name + ".jpg");
        CHECK(tile.seen.h >= tile.rect.h - 0.5F);
        CHECK(tile.rect.bottom() <= caption.y);
        // Nor is room kept for another row.
        CHECK(caption.y - tile.rect.bottom() < glass.dress.metrics.mm(14.0F));
    }
}

TEST_CASE("the key that saves a picture says what is missing, until a picture is chosen") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("nut-marks");
    CHECK_FALSE(glass.spot("run/check/photo/save").enabled);
    CHECK(glass.spot("run/check/photo/save").small == "choose a picture first");
    REQUIRE(glass.press("run/check/photo/pictures/pictures/090.jpg"));
    (void)glass.frame();
    CHECK(glass.spot("run/check/photo/save").enabled);
    CHECK(glass.spot("run/check/photo/save").small.empty());
}

TEST_CASE("what is written under a picture is its caption, whatever it says, and the answer is given with a key") {
    Glass glass{1280.0F, 800.0F, {}};
    for (const char* words : {"gutter clear", "no", "", "yes"}) {
        CAPTURE(words);
        for (const bool is_so : {true, false}) {
            CAPTURE(is_so);
            glass.all.clear();
            glass.drafts.run = {};
            glass.open_check("nut-marks");
            REQUIRE(glass.press("run/check/photo/pictures/pictures/090.jpg"));
            glass.drafts.run.caption = words;
            REQUIRE(glass.press(is_so ? "run/check/photo/save" : "run/check/photo/fault"));
            const auto* with = glass.last<WithPhoto>();
            REQUIRE(with != nullptr);
            const auto& reading = std::get<desk::TakeReading>(with->intent);
            CHECK(reading.text == (is_so ? "yes" : "no"));
            CHECK(reading.caption == words);
        }
    }
}

TEST_CASE("that it is not so is told without a picture too, and in a correction neither key works before it is said what was done") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("nut-marks");
    CHECK(glass.spot("run/check/photo/fault").small == "saved without a picture");
    REQUIRE(glass.press("run/check/photo/fault"));
    CHECK(glass.last<WithPhoto>() == nullptr);
    const auto* reading = glass.last_intent<desk::TakeReading>();
    REQUIRE(reading != nullptr);
    CHECK(reading->text == "no");
    glass.drafts.run = {};
    for (auto& check : glass.world.job->checks)
        if (check.id == "nut-marks") check.outcome = measure::Outcome::DoesNotConform;
    glass.open_check("nut-marks");
    glass.drafts.run.mode = RunMode::Correcting;
    glass.drafts.run.photo_path = "pictures/090.jpg";
    (void)glass.frame();
    CHECK_FALSE(glass.spot("run/check/photo/save").enabled);
    CHECK_FALSE(glass.spot("run/check/photo/fault").enabled);
    glass.drafts.run.done = "painted anew";
    (void)glass.frame();
    CHECK(glass.spot("run/check/photo/save").enabled);
    CHECK(glass.spot("run/check/photo/fault").enabled);
}

TEST_CASE("touching the chosen picture again takes it out, and a glove that bounces on it does not") {
    Glass glass{1280.0F, 800.0F, {}};
    glass.open_check("nut-marks");
    const std::string tile = "run/check/photo/pictures/pictures/090.jpg";
    REQUIRE(glass.press(tile));
    const Rect at = glass.spot(tile).rect;
    glass.put_finger(at.x + at.w / 2.0F, at.y + at.h / 2.0F);
    glass.lift_finger();
    CHECK(glass.drafts.run.photo_path == "pictures/090.jpg");
    REQUIRE(glass.press(tile));
    CHECK(glass.drafts.run.photo_path.empty());
}

namespace {

/// The check of the roof with the question and the demand it has in the shipped list.
void ask_for_roof(Glass& glass) {
    for (auto& check : glass.world.job->checks) {
        if (check.id != "nut-marks") continue;
        check.question = "Is no tile, slate or sheet cracked, lifted or missing, and are the gutters clear?";
        check.limits.text = "The whole work area, covering sound, gutter clear";
    }
    glass.open_check("nut-marks");
}

float question_seen(const Glass& glass) {
    for (const Lettering& letters : glass.probe.letters)
        if (letters.words.starts_with("Is no tile")) return letters.seen.h;
    return 0.0F;
}

}  // namespace

TEST_CASE("on a ten-inch panel pictures are seen as high as a key, before and after one is chosen, and two lines of the question with them") {
    // 10.1 inch of 16 : 10 is 217.5 by 136.0 mm.
    struct Held {
        float width_px, height_px;
        int percent;
        std::size_t folders;
    };
    for (const auto& [width_px, height_px, percent, folders] :
         {Held{1280.0F, 800.0F, 100, 1}, Held{1280.0F, 800.0F, 100, 2}, Held{800.0F, 1280.0F, 100, 2}, Held{1280.0F, 800.0F, 200, 1}, Held{800.0F, 1280.0F, 200, 2}}) {
        CAPTURE(width_px);
        CAPTURE(percent);
        CAPTURE(folders);
        Glass glass{width_px, height_px, {.px_per_mm = 1280.0F / 217.5F, .text_percent = percent}};
        glass.world.photos.there.assign(folders, {"", "This device"});
        for (std::size_t i = 1; i < folders; ++i) glass.world.photos.there[i] = {"/media/orla/ROOFCAM/DCIM", "ROOFCAM"};
        glass.world.photos.is_own = true;
        ask_for_roof(glass);
        const Metrics& metrics = glass.dress.metrics;
        CHECK(question_seen(glass) >= 2.0F * em_px(Face::Body, metrics) - 1.0F);
        // Where they take turns the pictures come with a touch, and none of them is a sliver meanwhile.
        if (glass.shows("run/check/photo/turn")) {
            CHECK_FALSE(glass.shows("run/check/photo/pictures/pictures/091.jpg"));
            REQUIRE(glass.press("run/check/photo/turn"));
            CHECK(glass.last<AskFiles>() != nullptr);
        }
        if (height_px > width_px || (percent == 100 && folders == 1)) CHECK_FALSE(glass.shows("run/check/photo/turn"));
        if (height_px < width_px && percent == 200) CHECK(glass.shows("run/check/photo/turn"));
        for (int i = 0; i < 2; ++i) {
            (void)glass.frame();
            CHECK(glass.spot("run/check/photo/pictures/pictures/091.jpg").seen.h >= metrics.mm(key_mm) - 1.0F);
            if (i == 0) REQUIRE(glass.press("run/check/photo/pictures/pictures/091.jpg"));
        }
        CHECK(glass.drafts.run.photo_path == "pictures/091.jpg");
        CHECK(glass.spot("run/check/photo/save").enabled);
        if (!glass.shows("run/check/photo/turn")) continue;
        REQUIRE(glass.press("run/check/photo/turn"));
        CHECK(question_seen(glass) >= 2.0F * em_px(Face::Body, metrics) - 1.0F);
    }
}

TEST_CASE("the name of a file is its last part") {
    CHECK(file_name("a/b/c.jpg") == "c.jpg");
    CHECK(file_name("c.jpg") == "c.jpg");
    CHECK(file_name("a\\b.jpg") == "b.jpg");
}
