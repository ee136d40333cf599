// Owners for what OpenSSL hands out. For the sources of this room only, never for another header.
#pragma once

#include <openssl/bio.h>
#include <openssl/bn.h>
#include <openssl/cms.h>
#include <openssl/ec.h>
#include <openssl/evp.h>
#include <openssl/x509.h>
#include <openssl/x509v3.h>

#include <memory>
#include <string>
#include <string_view>

#include "problem/result.hpp"

namespace wm::digest::openssl {

template <auto release>
struct Release {
    template <class T>
    void operator()(T* part) const {
        release(part);
    }
};

using Key = std::unique_ptr<EVP_PKEY, Release<EVP_PKEY_free>>;
using KeyContext = std::unique_ptr<EVP_PKEY_CTX, Release<EVP_PKEY_CTX_free>>;
using DigestContext = std::unique_ptr<EVP_MD_CTX, Release<EVP_MD_CTX_free>>;
using CipherContext = std::unique_ptr<EVP_CIPHER_CTX, Release<EVP_CIPHER_CTX_free>>;
using Certificate = std::unique_ptr<X509, Release<X509_free>>;
using Number = std::unique_ptr<BIGNUM, Release<BN_clear_free>>;
using Group = std::unique_ptr<EC_GROUP, Release<EC_GROUP_free>>;
using Point = std::unique_ptr<EC_POINT, Release<EC_POINT_free>>;
using Bio = std::unique_ptr<BIO, Release<BIO_free_all>>;
using Cms = std::unique_ptr<CMS_ContentInfo, Release<CMS_ContentInfo_free>>;
using Store = std::unique_ptr<X509_STORE, Release<X509_STORE_free>>;

inline const unsigned char* bytes_of(std::string_view text) {
    return reinterpret_cast<const unsigned char*>(text.data());
}
inline unsigned char* bytes_of(std::string& text) {
    return reinterpret_cast<unsigned char*>(text.data());
}

/// DER by any i2d_… function; empty when it gives up.
template <class Part, class Write>
std::string der_of(Part* part, Write write) {
    unsigned char* out = nullptr;
    const int length = write(part, &out);
    if (length <= 0) return {};
    std::string der{reinterpret_cast<const char*>(out), static_cast<std::size_t>(length)};
    OPENSSL_free(out);
    return der;
}

/// The certificate in exactly these bytes; null for others.
[[nodiscard]] Certificate certificate_of(std::string_view der);
/// The private key in exactly these bytes of PKCS #8; null for others.
[[nodiscard]] Key private_key_of(std::string_view der);

/// A DER-encoded ECDSA signature with SHA-256; empty when the key cannot sign.
[[nodiscard]] std::string ecdsa_signature(EVP_PKEY* key, std::string_view message);
[[nodiscard]] bool is_ecdsa_signature(EVP_PKEY* key, std::string_view message,
                                      std::string_view signature);

/// Of the two signatures (r, s) and (r, n - s) that both verify, the one with the lower s; empty for
/// bytes that are no signature of this curve. Without this rule anyone could turn a seal into a second
/// one that is as good. Source: SEC 1 version 2.0, section B.3 (from memory).
[[nodiscard]] std::string lower_form(std::string_view signature,
                                     int curve = NID_X9_62_prime256v1);

/// For the rare call that fails although its input was right.
[[nodiscard]] tl::unexpected<Problem> library_problem(std::string what, std::string where);

}  // namespace wm::digest::openssl
