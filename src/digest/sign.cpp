#include "digest/sign.hpp"

#include <openssl/err.h>
#include <sodium.h>

#include <cassert>

#include "digest/hash.hpp"
#include "digest/openssl_parts.hpp"

namespace wm::digest {
namespace {

using namespace openssl;

constexpr std::size_t key_bytes = 32;
constexpr std::size_t signature_bytes = 64;

Key public_half(std::string_view public_key) {
    return Key{EVP_PKEY_new_raw_public_key(EVP_PKEY_ED25519, nullptr, bytes_of(public_key),
                                           public_key.size())};
}

Key secret_half(std::string_view secret) {
    return Key{
        EVP_PKEY_new_raw_private_key(EVP_PKEY_ED25519, nullptr, bytes_of(secret), secret.size())};
}

}  // namespace

Result<DeviceKey> device_key(std::string_view random_bytes) {
    if (random_bytes.size() != key_bytes) {
        return refused({.what = "A device key is made of exactly 32 bytes.",
                        .where = "device key",
                        .what_to_do = "Restore the key file from a copy, or start as a new device.",
                        .kind = ProblemKind::Unreadable});
    }
    const Key key = secret_half(random_bytes);
    DeviceKey out{std::string{random_bytes}, std::string(key_bytes, '\0')};
    std::size_t length = key_bytes;
    if (!key || EVP_PKEY_get_raw_public_key(key.get(), bytes_of(out.public_key), &length) != 1) {
        return library_problem("No device key could be made.", "device key");
    }
    return out;
}

std::string device_id(std::string_view public_key) {
    return sha256_hex(public_key).substr(0, 32);
}

// Ed25519 has one signature for a key and a message, whoever makes it (RFC 8032): libsodium takes the public half as it is,
// where OpenSSL works it out anew with each key it is given, and a head is signed with each entry.
std::string sign(const DeviceKey& key, std::string_view message) {
    assert(key.secret.size() == key_bytes && key.public_key.size() == key_bytes && "a key of device_key() can sign");
    [[maybe_unused]] const int started = sodium_init();
    assert(started >= 0 && "the library starts wherever the PINs of this program are checked");
    std::string both = key.secret + key.public_key;
    std::string signature(signature_bytes, '\0');
    crypto_sign_detached(bytes_of(signature), nullptr, bytes_of(message), message.size(), bytes_of(both));
    sodium_memzero(both.data(), both.size());
    return signature;
}

bool is_signed_by(std::string_view public_key, std::string_view message,
                  std::string_view signature) {
    if (public_key.size() != key_bytes || signature.size() != signature_bytes) return false;
    const Key key = public_half(public_key);
    const DigestContext context{EVP_MD_CTX_new()};
    const bool fits =
        key && EVP_DigestVerifyInit(context.get(), nullptr, nullptr, nullptr, key.get()) == 1 &&
        EVP_DigestVerify(context.get(), bytes_of(signature), signature.size(), bytes_of(message),
                         message.size()) == 1;
    ERR_clear_error();
    return fits;
}

std::string public_key_pem(std::string_view public_key) {
    // RFC 8410: SubjectPublicKeyInfo of Ed25519 is this prefix and the 32 bytes.
    const std::string der = std::string{"\x30\x2a\x30\x05\x06\x03\x2b\x65\x70\x03\x21\x00", 12} +
                            std::string{public_key};
    std::string base64(4 * ((der.size() + 2) / 3) + 1, '\0');
    const int length =
        EVP_EncodeBlock(bytes_of(base64), bytes_of(der), static_cast<int>(der.size()));
    base64.resize(static_cast<std::size_t>(length));
    return "-----BEGIN PUBLIC KEY-----\n" + base64 + "\n-----END PUBLIC KEY-----\n";
}

}  // namespace wm::digest
