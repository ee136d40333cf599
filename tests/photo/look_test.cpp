#include "photo/look.hpp"

#include <doctest/doctest.h>

#include "photo/intake.hpp"
#include "photo/testing.hpp"

using namespace wm::photo;

TEST_CASE("the look survives shrinking and another quality") {
    const std::string full = testing::jpeg_scene(1600, 1200, 3);
    const std::string rough = encoded_jpeg(*decoded_jpeg(full, 400), 40);
    const auto one = take_in(full, "a");
    const auto two = take_in(rough, "b");
    REQUIRE(one);
    REQUIRE(two);
    CHECK(*difference(one->look, two->look) <= alike_at_most);
}

TEST_CASE("pictures of other things look different") {
    const auto mirrored = turned(testing::scene(400, 300, 3), 2);
    CHECK(*difference(look_of(testing::scene(400, 300, 3)), look_of(mirrored)) > alike_at_most);
}

TEST_CASE("a look is 16 digits and anything else cannot be compared") {
    CHECK(look_of(testing::scene(5, 3, 1)).size() == 16);
    CHECK(look_of({}).size() == 16);
    CHECK(difference("00000000000000ff", "0000000000000000") == 8);
    CHECK(!difference("0", "0000000000000000"));
    CHECK(!difference("000000000000000G", "0000000000000000"));
}
