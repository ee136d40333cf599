#include "digest/hash.hpp"

#include <openssl/crypto.h>
#include <openssl/evp.h>
#include <openssl/hmac.h>

#include <algorithm>
#include <cassert>

namespace wm::digest {
namespace {

const unsigned char* bytes_of(std::string_view text) {
    return reinterpret_cast<const unsigned char*>(text.data());
}
unsigned char* bytes_of(std::string& text) {
    return reinterpret_cast<unsigned char*>(text.data());
}

/// Looked up once: fetching an algorithm by name costs more than hashing a line with it.
const EVP_MD* sha256_algorithm() {
    static const EVP_MD* const algorithm = EVP_MD_fetch(nullptr, "SHA256", nullptr);
    return algorithm;
}

std::optional<int> digit_value(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    return std::nullopt;
}

}  // namespace

std::string sha256(std::string_view bytes) {
    std::string out(32, '\0');
    unsigned int length = 0;
    const int ok =
        EVP_Digest(bytes.data(), bytes.size(), bytes_of(out), &length, sha256_algorithm(), nullptr);
    assert(ok == 1 && length == 32 && "SHA-256 is part of every OpenSSL");
    static_cast<void>(ok);
    return out;
}

std::string sha256_hex(std::string_view bytes) {
    return to_hex(sha256(bytes));
}

std::string hmac_sha256(std::string_view key, std::string_view message) {
    std::string out(32, '\0');
    unsigned int length = 0;
    const unsigned char* made =
        HMAC(sha256_algorithm(), key.empty() ? "" : key.data(), static_cast<int>(key.size()),
             bytes_of(message), message.size(), bytes_of(out), &length);
    assert(made != nullptr && length == 32 && "HMAC needs a key that fits an int");
    static_cast<void>(made);
    return out;
}

std::string to_hex(std::string_view bytes) {
    constexpr char digits[] = "0123456789abcdef";
    std::string out;
    out.reserve(bytes.size() * 2);
    for (const char c : bytes) {
        const auto byte = static_cast<unsigned char>(c);
        out += digits[byte >> 4];
        out += digits[byte & 15U];
    }
    return out;
}

std::optional<std::string> from_hex(std::string_view digits) {
    if (digits.size() % 2 != 0) return std::nullopt;
    std::string out;
    out.reserve(digits.size() / 2);
    for (std::size_t i = 0; i < digits.size(); i += 2) {
        const auto high = digit_value(digits[i]);
        const auto low = digit_value(digits[i + 1]);
        if (!high || !low) return std::nullopt;
        out += static_cast<char>(*high * 16 + *low);
    }
    return out;
}

bool is_sha256_hex(std::string_view text) {
    return text.size() == 64 &&
           std::all_of(text.begin(), text.end(), [](char c) { return digit_value(c).has_value(); });
}

bool same_bytes(std::string_view a, std::string_view b) {
    return a.size() == b.size() && CRYPTO_memcmp(a.data(), b.data(), a.size()) == 0;
}

}  // namespace wm::digest
