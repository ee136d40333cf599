#include "photo/png_whole.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace wm::photo;

TEST_CASE("the smallest PNG is whole, and with a byte more or less it is not") {
    // One grey pixel; the checksums are those of the PNG specification's polynomial.
    const std::string png{
        "\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x01\0\0\0\x01\x08\0\0\0\0\x3a\x7e\x9b\x55"
        "\0\0\0\nIDAT\x78\x9c\x63\x60\0\0\0\x02\0\x01\x48\xaf\xa4\x71"
        "\0\0\0\0IEND\xae\x42\x60\x82",
        67};
    CHECK(is_whole_png(png));
    CHECK(!is_whole_png(png + "x"));
    CHECK(!is_whole_png(png.substr(0, 66)));
    CHECK(!is_whole_png(""));
    CHECK(begins_as_png(png));
}
