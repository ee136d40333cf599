#include "digest/pin.hpp"

#include <doctest/doctest.h>

#include "digest/hash.hpp"

using namespace wm::digest;

TEST_CASE("the key of a PIN is that of another engine") {
    // Source: the command argon2 of Debian's package argon2 0~20171227, run 2026-11-27:
    // printf 'WORD' | argon2 SALT -id -t PASSES -k KIB -p 1 -l 32 -r
    struct Row {
        const char* pin;
        const char* salt;
        std::uint64_t passes, memory_kib;
        const char* key;
    };
    for (const Row& row : {
             Row{"482913", "0123456789abcdef", 3, 64, "dce387eab5c714a61d715bff2f5cbe30d5bdedfa73a0d7bdf34db8ff12ff93aa"},
             Row{"lantern-fold", "fedcba9876543210", 1, 1024, "262cf886eba810d27168d659990851400054a508937432cb59c0dad52627e186"},
             Row{"482913", "0123456789abcdef", 3, 65536, "d6fff0f9c89877d131f196375baed632bfab168a5c00f967f7bca5f19973ce79"},
         }) {
        CAPTURE(row.pin);
        const auto key = key_of_pin(row.pin, row.salt, {row.passes, row.memory_kib});
        REQUIRE(key);
        CHECK(to_hex(*key) == row.key);
    }
}

TEST_CASE("another PIN, salt or cost gives another key") {
    const PinCost cheap{1, 8};
    const auto key = key_of_pin("482913", "0123456789abcdef", cheap).value();
    CHECK(key != key_of_pin("482914", "0123456789abcdef", cheap).value());
    CHECK(key != key_of_pin("482913", "0123456789abcdeg", cheap).value());
    CHECK(key != key_of_pin("482913", "0123456789abcdef", {2, 8}).value());
    CHECK(key != key_of_pin("482913", "0123456789abcdef", {1, 16}).value());
}

TEST_CASE("a salt or a cost that cannot be right is refused with a way out") {
    for (const auto& bad : {key_of_pin("482913", "short"), key_of_pin("482913", "0123456789abcdef", {0, 64}),
                            key_of_pin("482913", "0123456789abcdef", {3, 4}),
                            key_of_pin("482913", "0123456789abcdef", {3, 1ULL << 40U})}) {
        REQUIRE_FALSE(bad);
        CHECK(bad.error().what == "What is kept about this PIN is damaged.");
        CHECK_FALSE(bad.error().what_to_do.empty());
    }
}

TEST_CASE("a wiped secret is gone") {
    std::string secret = "482913482913482913482913482913";
    const char* where = secret.data();
    const std::size_t size = secret.size();
    wipe(secret);
    CHECK(secret.empty());
    for (std::size_t i = 1; i < size; ++i) CHECK(where[i] == '\0');
}
