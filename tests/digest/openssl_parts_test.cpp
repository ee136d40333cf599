#include "digest/openssl_parts.hpp"

#include <doctest/doctest.h>

#include "digest/testing.hpp"

using namespace wm::digest;

TEST_CASE("a key or certificate is read from exactly its bytes") {
    const CompanyKeys keys = testing::some_company();
    CHECK(openssl::private_key_of(keys.root_key) != nullptr);
    CHECK(openssl::certificate_of(keys.root_certificate) != nullptr);
    CHECK(openssl::private_key_of(keys.root_key + "x") == nullptr);
    CHECK(openssl::certificate_of(keys.root_certificate + "x") == nullptr);
    CHECK(openssl::certificate_of("") == nullptr);
}

TEST_CASE("an ECDSA signature with bytes after it does not fit") {
    const CompanyKeys keys = testing::some_company();
    const auto key = openssl::private_key_of(keys.root_key);
    const std::string signature = openssl::ecdsa_signature(key.get(), "m");
    CHECK(openssl::is_ecdsa_signature(key.get(), "m", signature));
    CHECK_FALSE(openssl::is_ecdsa_signature(key.get(), "m", signature + "x"));
    CHECK_FALSE(openssl::is_ecdsa_signature(key.get(), "n", signature));
}

TEST_CASE("of the two forms of a signature that verify, the lower is one and the same") {
    const CompanyKeys keys = testing::some_company();
    const auto key = openssl::private_key_of(keys.root_key);
    for (const char* message : {"a", "b", "c", "d", "e", "f", "g", "h"}) {
        CAPTURE(message);
        const std::string given = openssl::ecdsa_signature(key.get(), message);
        const std::string lower = openssl::lower_form(given);
        CHECK(openssl::is_ecdsa_signature(key.get(), message, lower));
        CHECK(openssl::lower_form(lower) == lower);
        // s is the second number; below n/2 its first byte is at most 7f without a zero in front.
        const std::size_t s_at = 4 + static_cast<unsigned char>(lower[3]);
        CHECK(static_cast<unsigned char>(lower[s_at + 1]) <= 32);
    }
    CHECK(openssl::lower_form("no signature").empty());
}
