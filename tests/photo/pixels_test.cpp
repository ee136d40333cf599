#include "photo/pixels.hpp"

#include <doctest/doctest.h>

#include "photo/testing.hpp"

using namespace wm::photo;

namespace {

/// Two by three, each pixel its own number: 1 2 / 3 4 / 5 6.
Pixels numbered() {
    Pixels pixels{2, 3, {}};
    for (std::uint8_t n = 1; n <= 6; ++n) pixels.rgb.insert(pixels.rgb.end(), {n, n, n});
    return pixels;
}

std::vector<int> numbers(const Pixels& pixels) {
    std::vector<int> all;
    for (std::size_t i = 0; i < pixels.rgb.size(); i += 3) all.push_back(pixels.rgb[i]);
    return all;
}

}  // namespace

TEST_CASE("each EXIF orientation is turned upright as its table says") {
    // Source: EXIF 2.3, tag 0x0112, place of row 0 and column 0.
    CHECK(numbers(turned(numbered(), 1)) == std::vector<int>{1, 2, 3, 4, 5, 6});
    CHECK(numbers(turned(numbered(), 2)) == std::vector<int>{2, 1, 4, 3, 6, 5});
    CHECK(numbers(turned(numbered(), 3)) == std::vector<int>{6, 5, 4, 3, 2, 1});
    CHECK(numbers(turned(numbered(), 4)) == std::vector<int>{5, 6, 3, 4, 1, 2});
    CHECK(numbers(turned(numbered(), 5)) == std::vector<int>{1, 3, 5, 2, 4, 6});
    CHECK(numbers(turned(numbered(), 6)) == std::vector<int>{5, 3, 1, 6, 4, 2});
    CHECK(numbers(turned(numbered(), 7)) == std::vector<int>{6, 4, 2, 5, 3, 1});
    CHECK(numbers(turned(numbered(), 8)) == std::vector<int>{2, 4, 6, 1, 3, 5});
    CHECK(turned(numbered(), 0) == numbered());
    CHECK(turned(numbered(), 9) == numbered());
}

TEST_CASE("shrinking keeps proportions and never enlarges") {
    const Pixels small = shrunk(testing::scene(400, 100, 1), 100);
    CHECK(small.width == 100);
    CHECK(small.height == 25);
    CHECK(shrunk(numbered(), 100) == numbered());
    CHECK(shrunk(testing::scene(3000, 1, 1), 100).height == 1);
}
