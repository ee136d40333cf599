#include "digest/hash.hpp"

#include <doctest/doctest.h>

using namespace wm::digest;

TEST_CASE("SHA-256 gives the published digests") {
    // Source: FIPS 180-4 example values, "abc" and the empty message.
    CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sha256_hex("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    CHECK(sha256("abc").size() == 32);
}

TEST_CASE("HMAC-SHA-256 gives the published code") {
    // Source: RFC 4231 test case 2.
    CHECK(to_hex(hmac_sha256("Jefe", "what do ya want for nothing?")) ==
          "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843");
    CHECK(hmac_sha256("", "").size() == 32);
}

TEST_CASE("hexadecimal digits come back as the bytes they were") {
    std::string all;
    for (int i = 0; i < 256; ++i) all += static_cast<char>(i);
    CHECK(from_hex(to_hex(all)) == all);
    CHECK(from_hex("").value() == "");
}

TEST_CASE("only pairs of lower-case digits are hexadecimal") {
    for (const char* text : {"a", "0G", "AB", " 0", "0x"}) {
        CAPTURE(text);
        CHECK_FALSE(from_hex(text).has_value());
    }
    CHECK(is_sha256_hex(std::string(64, 'f')));
    CHECK_FALSE(is_sha256_hex(std::string(63, 'f')));
    CHECK_FALSE(is_sha256_hex(std::string(64, 'F')));
}

TEST_CASE("bytes are the same only when all of them are") {
    CHECK(same_bytes("abc", "abc"));
    CHECK(same_bytes("", ""));
    CHECK_FALSE(same_bytes("abc", "abd"));
    CHECK_FALSE(same_bytes("abc", "ab"));
}
