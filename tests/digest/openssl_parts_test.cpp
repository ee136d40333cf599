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
