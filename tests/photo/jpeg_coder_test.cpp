#include "photo/jpeg_coder.hpp"

#include <doctest/doctest.h>

#include "photo/testing.hpp"

using namespace wm::photo;

TEST_CASE("decoding scales down but never below the wanted side") {
    const std::string jpeg = testing::jpeg_scene(1000, 500, 1);
    const auto pixels = decoded_jpeg(jpeg, 300);
    REQUIRE(pixels);
    CHECK(pixels->width >= 300);
    CHECK(pixels->width < 1000);
    CHECK(jpeg_head(jpeg)->width == 1000);
}

TEST_CASE("a head that is none gives no size and no orientation but the usual") {
    CHECK(!jpeg_head("GIF89a"));
    CHECK(!jpeg_head(""));
    CHECK(exif_orientation("GIF89a") == 1);
    CHECK(exif_orientation(testing::with_exif(testing::jpeg_scene(16, 16, 1), 0)) == 1);
    CHECK(exif_orientation(testing::with_exif(testing::jpeg_scene(16, 16, 1), 200)) == 1);
}
