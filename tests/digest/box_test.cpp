#include "digest/box.hpp"

#include <doctest/doctest.h>

#include "digest/hash.hpp"

using namespace wm::digest;

namespace {

const BoxKey key{std::string(32, 'k'), "words"};
const std::string nonce(12, 'n');

}  // namespace

TEST_CASE("AES-256-GCM gives the published ciphertext and tag") {
    // Source: McGrew and Viega, GCM specification, test case 14 (all zeros, no further data).
    const auto box =
        lock({std::string(32, '\0'), ""}, std::string(12, '\0'), std::string(16, '\0'));
    REQUIRE(box);
    CHECK(to_hex(box->substr(12)) ==
          "cea7403d4d606b6e074ec5d3baf39d18d0d1c8a799996bf0265b98b5d48ab919");
}

TEST_CASE("what was locked comes back, also nothing at all") {
    for (const std::string& plain :
         {std::string{}, std::string{"Mirela Ostrand"}, std::string(5000, '\0')}) {
        const auto box = lock(key, nonce, plain);
        REQUIRE(box);
        CHECK(box->size() == plain.size() + 28);
        CHECK(unlock(key, *box, "test").value() == plain);
    }
}

TEST_CASE("one changed bit keeps a box shut") {
    const std::string box = lock(key, nonce, "a name").value();
    for (std::size_t i = 0; i < box.size(); ++i) {
        for (int bit = 0; bit < 8; ++bit) {
            std::string changed = box;
            changed[i] = static_cast<char>(static_cast<unsigned char>(changed[i]) ^ (1U << bit));
            CHECK_FALSE(unlock(key, changed, "test"));
        }
    }
    CHECK_FALSE(unlock(key, box.substr(0, box.size() - 1), "test"));
    CHECK_FALSE(unlock(key, "", "test"));
}

TEST_CASE("a box opens neither with another key nor for another purpose") {
    const std::string box = lock(key, nonce, "a name").value();
    CHECK_FALSE(unlock({std::string(32, 'l'), "words"}, box, "test"));
    CHECK_FALSE(unlock({std::string(32, 'k'), "files"}, box, "test"));
    CHECK(unlock({"short", "words"}, box, "words of J-1").error().where == "words of J-1");
}

TEST_CASE("keys and nonces of a wrong length are refused") {
    CHECK_FALSE(lock({"short", "words"}, nonce, "x"));
    CHECK_FALSE(lock(key, "short", "x"));
}

TEST_CASE("a passphrase gives the key that scrypt defines") {
    // Source: computed with hashlib.scrypt of Python, n = 2^15, r = 8, p = 1.
    CHECK(to_hex(key_of_passphrase("four words of ours", "0123456789abcdef").value()) ==
          "f7aecc7f3a486436951cacd170ec2b366c747df8e06b05c7f22f945987968c5a");
    CHECK_FALSE(key_of_passphrase("four words of ours", "short salt"));
}
