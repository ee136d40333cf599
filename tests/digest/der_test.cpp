#include "digest/der.hpp"

#include <doctest/doctest.h>

using namespace wm::digest;

TEST_CASE("a length takes the fewest bytes") {
    // Source: X.690 sections 8.1.3 and 10.1.
    CHECK(der(tag::octets, "") == std::string("\x04\x00", 2));
    CHECK(der(tag::octets, std::string(127, 'x')).substr(0, 2) == "\x04\x7f");
    CHECK(der(tag::octets, std::string(128, 'x')).substr(0, 3) == "\x04\x81\x80");
    CHECK(der(tag::octets, std::string(256, 'x')).substr(0, 4) ==
          std::string("\x04\x82\x01\x00", 4));
}

TEST_CASE("members of a set are sorted by their bytes") {
    CHECK(set_of({"b", "a", "ab"}) == "aabb");
    CHECK(set_of({"\xff", "\x01"}) == "\x01\xff");
}

TEST_CASE("a positive integer is neither padded nor taken for a negative one") {
    // Source: X.690 section 8.3.
    CHECK(positive_integer("\x7f") == "\x02\x01\x7f");
    CHECK(positive_integer("\x80") == std::string("\x02\x02\x00\x80", 4));
    CHECK(positive_integer(std::string("\0\0\x05", 3)) == "\x02\x01\x05");
    CHECK(positive_integer(std::string(1, '\0')) == std::string("\x02\x01\x00", 3));
}
