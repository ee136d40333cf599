#include "handover/text_lines.hpp"

#include <doctest/doctest.h>

using namespace wm::handover;

TEST_CASE("a long line is folded at 75 octets and never inside a letter") {
    std::string file;
    add_line(file, std::string(74, 'a') + "€" + std::string(80, 'b'));
    CHECK(file == std::string(74, 'a') + "\r\n €" + std::string(71, 'b') + "\r\n " +
                      std::string(9, 'b') + "\r\n");
}

TEST_CASE("what has a meaning in a value is escaped, and nothing makes a new line") {
    CHECK(escaped("a;b,c\\d\ne\r\tf") == "a\\;b\\,c\\\\d\\nef");
    CHECK(uid_part("J-1 é") == "J-1_20_c3_a9");
}

TEST_CASE("a moment is stamped in UTC") {
    CHECK(utc_stamp({2027, 3, 4, 0, 30, 0, 120}) == "20270303T223000Z");
    CHECK(utc_stamp({2027, 12, 31, 23, 30, 5, -60}) == "20280101T003005Z");
}
