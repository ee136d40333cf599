#include "digest/text.hpp"

#include <doctest/doctest.h>

using namespace wm::digest;

TEST_CASE("text is UTF-8 only in its shortest and lawful form") {
    for (const char* good :
         {"", "abc", "Ωµ°", "\xf0\x9f\x98\x80", "\xed\x9f\xbf", "\xf4\x8f\xbf\xbf"}) {
        CAPTURE(good);
        CHECK(is_utf8(good));
    }
    // Overlong slash, surrogate, above U+10FFFF, cut short, lone continuation, 0xFF.
    for (const char* bad : {"\xc0\xaf", "\xe0\x80\xaf", "\xed\xa0\x80", "\xf4\x90\x80\x80",
                            "\xe2\x82", "\x80", "\xff", "\xc3(", "\xf8\x88\x80\x80\x80"}) {
        CAPTURE(bad);
        CHECK_FALSE(is_utf8(bad));
    }
}

TEST_CASE("a letter and its mark become the one letter they spell") {
    CHECK(composed("e\xcc\x81") == "é");
    CHECK(composed("A\xcc\x8a") == "Å");
    CHECK(composed("\xce\xb1\xcc\x81") == "ά");
    CHECK(composed("\xd0\xb8\xcc\x86") == "й");
    // Two marks in a row: o, circumflex, grave is U+1ED3.
    CHECK(composed("o\xcc\x82\xcc\x80") == "ồ");
}

TEST_CASE("the ohm and angstrom signs become the letters they stand for") {
    CHECK(composed("\xe2\x84\xa6") == "Ω");
    CHECK(composed("\xe2\x84\xab") == "Å");
}

TEST_CASE("what has no common letter stays as it was entered") {
    for (const char* text : {"x\xcc\x84", "plain", "5 °C", "\xcc\x81", "\xff\xfe"}) {
        CAPTURE(text);
        CHECK(composed(text) == text);
    }
}

TEST_CASE("composing is done once and for all") {
    for (const char* text :
         {"e\xcc\x81t\xc3\xa9", "o\xcc\x82\xcc\x80", "\xe2\x84\xa6", "n\xcc\x83o"}) {
        CAPTURE(text);
        CHECK_FALSE(is_composed(text));
        CHECK(is_composed(composed(text)));
        CHECK(composed(composed(text)) == composed(text));
    }
    CHECK(is_composed("Göppel & Søn, Ωmega"));
}

TEST_CASE("a code point is written with as many bytes as it needs") {
    std::string text;
    append_utf8(text, 'a');
    append_utf8(text, 0xe9);
    append_utf8(text, 0x20ac);
    append_utf8(text, 0x1f600);
    CHECK(text == "aé€\xf0\x9f\x98\x80");
}
