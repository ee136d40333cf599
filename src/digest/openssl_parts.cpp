#include "digest/openssl_parts.hpp"

#include <openssl/ecdsa.h>
#include <openssl/err.h>

namespace wm::digest::openssl {

Certificate certificate_of(std::string_view der) {
    const unsigned char* at = bytes_of(der);
    Certificate certificate{d2i_X509(nullptr, &at, static_cast<long>(der.size()))};
    ERR_clear_error();
    if (certificate && at != bytes_of(der) + der.size()) certificate.reset();
    return certificate;
}

Key private_key_of(std::string_view der) {
    const unsigned char* at = bytes_of(der);
    Key key{d2i_AutoPrivateKey(nullptr, &at, static_cast<long>(der.size()))};
    ERR_clear_error();
    if (key && at != bytes_of(der) + der.size()) key.reset();
    return key;
}

std::string ecdsa_signature(EVP_PKEY* key, std::string_view message) {
    const DigestContext context{EVP_MD_CTX_new()};
    std::size_t length = 0;
    if (EVP_DigestSignInit(context.get(), nullptr, EVP_sha256(), nullptr, key) != 1 ||
        EVP_DigestSign(context.get(), nullptr, &length, bytes_of(message), message.size()) != 1) {
        return {};
    }
    std::string signature(length, '\0');
    if (EVP_DigestSign(context.get(), bytes_of(signature), &length, bytes_of(message),
                       message.size()) != 1) {
        return {};
    }
    signature.resize(length);
    return signature;
}

bool is_ecdsa_signature(EVP_PKEY* key, std::string_view message, std::string_view signature) {
    const DigestContext context{EVP_MD_CTX_new()};
    const bool fits =
        EVP_DigestVerifyInit(context.get(), nullptr, EVP_sha256(), nullptr, key) == 1 &&
        EVP_DigestVerify(context.get(), bytes_of(signature), signature.size(), bytes_of(message),
                         message.size()) == 1;
    ERR_clear_error();
    return fits;
}

std::string lower_form(std::string_view signature, int curve) {
    using Pair = std::unique_ptr<ECDSA_SIG, Release<ECDSA_SIG_free>>;
    const unsigned char* at = bytes_of(signature);
    const Pair pair{d2i_ECDSA_SIG(nullptr, &at, static_cast<long>(signature.size()))};
    ERR_clear_error();
    const Group group{EC_GROUP_new_by_curve_name(curve)};
    if (!pair || !group) return {};
    const BIGNUM* order = EC_GROUP_get0_order(group.get());
    Number r{BN_dup(ECDSA_SIG_get0_r(pair.get()))};
    Number s{BN_dup(ECDSA_SIG_get0_s(pair.get()))};
    const Number other{BN_new()};
    if (!r || !s || !other || BN_sub(other.get(), order, s.get()) != 1) return {};
    if (BN_cmp(other.get(), s.get()) < 0 && BN_copy(s.get(), other.get()) == nullptr) return {};
    const Pair lower{ECDSA_SIG_new()};
    if (!lower || ECDSA_SIG_set0(lower.get(), r.get(), s.get()) != 1) return {};
    static_cast<void>(r.release());
    static_cast<void>(s.release());
    return der_of(lower.get(), i2d_ECDSA_SIG);
}

tl::unexpected<Problem> library_problem(std::string what, std::string where) {
    const unsigned long code = ERR_get_error();
    ERR_clear_error();
    if (code != 0) {
        std::string reason(256, '\0');
        ERR_error_string_n(code, reason.data(), reason.size());
        reason.resize(reason.find('\0'));
        what += " The crypto library says: " + reason + ".";
    }
    return refused({.what = std::move(what),
                    .where = std::move(where),
                    .what_to_do = "Check that OpenSSL 3 is whole on this machine, then try again.",
                    .kind = ProblemKind::NotStored});
}

}  // namespace wm::digest::openssl
