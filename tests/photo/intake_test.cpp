#include "photo/intake.hpp"

#include <doctest/doctest.h>
#include <stb/stb_image_write.h>

#include "photo/look.hpp"
#include "photo/png_whole.hpp"
#include "photo/testing.hpp"

using namespace wm;
using namespace wm::photo;

namespace {

std::string png_scene(int width, int height) {
    const Pixels pixels = testing::scene(width, height, 3);
    std::string png;
    stbi_write_png_to_func(
        [](void* to, void* bytes, int size) {
            static_cast<std::string*>(to)->append(static_cast<const char*>(bytes),
                                                  static_cast<std::size_t>(size));
        },
        &png, width, height, 3, pixels.rgb.data(), 3 * width);
    return png;
}

int brightness_at(const std::string& jpeg, double share_x, double share_y) {
    const auto pixels = decoded_jpeg(jpeg, 100000);
    REQUIRE(pixels);
    const auto x = static_cast<std::size_t>(share_x * pixels->width);
    const auto y = static_cast<std::size_t>(share_y * pixels->height);
    return pixels->rgb[3 * (y * static_cast<std::size_t>(pixels->width) + x)];
}

}  // namespace

TEST_CASE("a large photo is kept within 1600 pixels and 130 KiB") {
    const auto photo = take_in(testing::jpeg_scene(4000, 3000, 1), "ends.jpg");
    REQUIRE(photo);
    CHECK(photo->width <= 1600);
    CHECK(photo->height <= 1600);
    CHECK(photo->jpeg.size() <= 130u * 1024u);
    CHECK(photo->width * 3 == doctest::Approx(photo->height * 4).epsilon(0.01));
    CHECK(is_sound_jpeg(photo->jpeg));
}

TEST_CASE("a small photo keeps its size") {
    const auto photo = take_in(testing::jpeg_scene(320, 240, 1), "small.jpg");
    REQUIRE(photo);
    CHECK(photo->width == 320);
    CHECK(photo->height == 240);
}

TEST_CASE("the same bytes give the same photo") {
    const std::string bytes = testing::jpeg_scene(900, 700, 5);
    CHECK(take_in(bytes, "a")->jpeg == take_in(bytes, "b")->jpeg);
}

TEST_CASE("a photo is turned upright by its EXIF and nothing of the EXIF is kept") {
    // Source: EXIF 2.3: 6 means that row 0 of the file is the right side of the picture.
    const std::string turned_file = testing::with_exif(testing::jpeg_scene(400, 300, 2), 6);
    REQUIRE(exif_orientation(turned_file) == 6);
    const auto photo = take_in(turned_file, "gauge.jpg");
    REQUIRE(photo);
    CHECK(photo->width == 300);
    CHECK(photo->height == 400);
    CHECK(brightness_at(photo->jpeg, 0.9, 0.1) > 180);  // the bright corner went to the right
    CHECK(brightness_at(photo->jpeg, 0.1, 0.1) < 180);
    CHECK(photo->jpeg.find("Exif") == std::string::npos);
    CHECK(photo->jpeg.find("29.4N") == std::string::npos);
}

TEST_CASE("a JPEG cut off anywhere is refused, never guessed") {
    const std::string whole = testing::jpeg_scene(200, 150, 4);
    for (std::size_t cut = 0; cut + 3 < whole.size(); cut += 97) {
        CAPTURE(cut);
        CHECK(!take_in(whole.substr(0, cut), "cut.jpg"));
    }
    const auto problem = take_in(whole.substr(0, whole.size() / 2), "cut.jpg").error();
    CHECK(told(problem) ==
          "photo cut.jpg: The picture file ends too early or is damaged.\n"
          "Take the photo again, or copy the file again from the camera.");
}

TEST_CASE("a PNG is taken in and one cut off or changed anywhere is refused") {
    const std::string whole = png_scene(60, 40);
    REQUIRE(take_in(whole, "plate.png"));
    for (std::size_t at = 0; at < whole.size(); at += 53) {
        CAPTURE(at);
        CHECK(!take_in(whole.substr(0, at), "cut.png"));
        std::string changed = whole;
        changed[at] = static_cast<char>(changed[at] ^ 0x10);
        CHECK(!take_in(changed, "changed.png"));
    }
}

TEST_CASE("a file that is no picture is refused in plain words") {
    const auto problem = take_in("%PDF-1.4 not a picture", "plan.pdf").error();
    CHECK(problem.what == "The file is no JPEG or PNG picture.");
    CHECK(problem.where == "photo plan.pdf");
    CHECK(!problem.what_to_do.empty());
    CHECK(!take_in("", "empty.jpg"));
}

TEST_CASE("a picture that claims to be enormous is refused before it is decoded") {
    std::string bytes = testing::jpeg_scene(64, 64, 1);
    const auto frame = bytes.find(std::string{"\xff\xc0", 2});
    REQUIRE(frame != std::string::npos);
    for (std::size_t i = 5; i < 9; ++i) bytes[frame + i] = static_cast<char>(0xf0);
    CHECK(take_in(bytes, "bomb.jpg").error().what ==
          "The picture is larger than 100 million pixels or 60 MB.");
}

TEST_CASE("noise that no quality can tame still ends within the limit") {
    Pixels noise = testing::scene(1200, 900, 9);
    unsigned state = 1;
    for (auto& byte : noise.rgb) {
        state = state * 1664525u + 1013904223u;
        byte = static_cast<std::uint8_t>(state >> 24);
    }
    const auto photo = take_in(encoded_jpeg(noise, 95), "noise.jpg");
    REQUIRE(photo);
    CHECK(photo->jpeg.size() <= 130u * 1024u);
}
