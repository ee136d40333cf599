#include "digest/repeatable_signature.hpp"

#include <doctest/doctest.h>

#include "digest/hash.hpp"
#include "digest/testing.hpp"

using namespace wm::digest;

namespace {

/// SEC 1 ECPrivateKey of P-256 without its public half.
openssl::Key key_of(std::string_view secret_hex) {
    return openssl::private_key_of(
        *from_hex("30310201010420" + std::string{secret_hex} + "a00a06082a8648ce3d030107"));
}

}  // namespace

TEST_CASE("key and message alone give the published signature") {
    // Source: RFC 6979 appendix A.2.5, P-256 with SHA-256, messages "sample" and "test".
    const auto key = key_of("c9afa9d845ba75166b5c215767b1d6934e50c3db36e89b127b8a622b120f6721");
    REQUIRE(key != nullptr);
    CHECK(to_hex(repeatable_signature(key.get(), "sample")) ==
          "3046"
          "022100efd48b2aacb6a8fd1140dd9cd45e81d69d2c877b56aaf991c34d0ea84eaf3716"
          "022100f7cb1c942d657c41d436c7a1b6e29f65f3e900dbb9aff4064dc4ab2f843acda8");
    CHECK(to_hex(repeatable_signature(key.get(), "test")) ==
          "3045"
          "022100f1abb023518351cd71d881567b1ea663ed3efcf6c5132b354f28d3b0b7d38367"
          "0220019f4113742a2b14bd25926b49c649155f267e60d3814b4c0cc84250e46f0083");
}

TEST_CASE("the library accepts every repeatable signature") {
    const CompanyKeys keys = testing::some_company();
    const auto key = openssl::private_key_of(keys.root_key);
    for (int i = 0; i < 300; ++i) {
        const std::string message = "message " + std::to_string(i);
        const std::string signature = repeatable_signature(key.get(), message);
        CHECK(openssl::is_ecdsa_signature(key.get(), message, signature));
        CHECK(signature == repeatable_signature(key.get(), message));
    }
}
