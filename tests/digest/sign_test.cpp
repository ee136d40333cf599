#include "digest/sign.hpp"

#include <doctest/doctest.h>

#include "digest/hash.hpp"

using namespace wm::digest;

namespace {

DeviceKey key_from(std::string_view hex) {
    return device_key(*from_hex(hex)).value();
}

constexpr std::string_view secret_1 =
    "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60";

}  // namespace

TEST_CASE("Ed25519 gives the published key and signature") {
    // Source: RFC 8032 section 7.1, test 1 (empty message).
    const DeviceKey key = key_from(secret_1);
    CHECK(to_hex(key.public_key) ==
          "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a");
    CHECK(to_hex(sign(key, "")) ==
          "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e3970"
          "1cf9b"
          "46bd25bf5f0595bbe24655141438e7a100b");
}

TEST_CASE("a signature fits its message and its key and no other") {
    const DeviceKey key = key_from(secret_1);
    const DeviceKey other = device_key(std::string(32, 'k')).value();
    const std::string signature = sign(key, "head");
    CHECK(is_signed_by(key.public_key, "head", signature));
    CHECK_FALSE(is_signed_by(key.public_key, "heat", signature));
    CHECK_FALSE(is_signed_by(other.public_key, "head", signature));
    CHECK_FALSE(is_signed_by(key.public_key, "head", signature.substr(1)));
    CHECK_FALSE(is_signed_by("", "head", signature));
    for (std::size_t i = 0; i < signature.size(); ++i) {
        std::string changed = signature;
        changed[i] = static_cast<char>(changed[i] ^ 1);
        CHECK_FALSE(is_signed_by(key.public_key, "head", changed));
    }
}

TEST_CASE("a device is named after its public key") {
    const DeviceKey key = key_from(secret_1);
    CHECK(device_id(key.public_key) == sha256_hex(key.public_key).substr(0, 32));
    CHECK(device_id(key.public_key).size() == 32);
}

TEST_CASE("a device key is made of 32 bytes and of no other number") {
    for (const std::size_t size : {0, 31, 33}) {
        CAPTURE(size);
        CHECK_FALSE(device_key(std::string(size, 'x')));
    }
}

TEST_CASE("the PEM of a public key is the published one") {
    // Source: RFC 8410 section 10.1, whose key is 19bf44096984cdfe…
    const std::string key =
        *from_hex("19bf44096984cdfe8541bac167dc3b96c85086aa30b6b6cb0c5c38ad703166e1");
    CHECK(public_key_pem(key) ==
          "-----BEGIN PUBLIC KEY-----\n"
          "MCowBQYDK2VwAyEAGb9ECWmEzf6FQbrBZ9w7lshQhqowtrbLDFw4rXAxZuE=\n"
          "-----END PUBLIC KEY-----\n");
}
