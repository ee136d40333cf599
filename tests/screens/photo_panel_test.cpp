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

TEST_CASE("the name of a file is its last part") {
    CHECK(file_name("a/b/c.jpg") == "c.jpg");
    CHECK(file_name("c.jpg") == "c.jpg");
    CHECK(file_name("a\\b.jpg") == "b.jpg");
}
