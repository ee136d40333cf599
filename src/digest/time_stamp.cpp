#include "digest/time_stamp.hpp"

#include <fmt/format.h>
#include <openssl/err.h>
#include <openssl/pkcs7.h>
#include <openssl/ts.h>

#include <algorithm>
#include <array>

#include "digest/company.hpp"
#include "digest/der.hpp"
#include "digest/hash.hpp"
#include "digest/openssl_parts.hpp"

namespace wm::digest {
namespace {

using namespace openssl;

using Token = std::unique_ptr<PKCS7, Release<PKCS7_free>>;
using Answer = std::unique_ptr<TS_RESP, Release<TS_RESP_free>>;
using Info = std::unique_ptr<TS_TST_INFO, Release<TS_TST_INFO_free>>;

constexpr std::string_view sha2 = "\x60\x86\x48\x01\x65\x03\x04\x02";
constexpr std::string_view rsa = "\x2a\x86\x48\x86\xf7\x0d\x01\x01";
constexpr std::string_view ecdsa = "\x2a\x86\x48\xce\x3d\x04\x03";

/// The algorithm `family`.`last` as it is written, without parameters or with the NULL of many.
bool is_algorithm(std::string_view written, std::string_view family, char last) {
    const std::string name = oid(std::string{family} + last);
    return written == der(tag::sequence, name) ||
           written == der(tag::sequence, name + std::string("\x05\x00", 2));
}

/// A digest, and a signature that does not name another one. RFC 5754, sections 2 and 3; RFC 8017:
/// SHA-256, 384, 512 are 1, 2, 3 of their family, 2, 3, 4 with ECDSA, 11, 12, 13 with RSA, whose 1
/// names none.
bool is_known_pair(std::string_view digest, std::string_view signature) {
    for (const char which : {'\x01', '\x02', '\x03'}) {
        if (!is_algorithm(digest, sha2, which)) continue;
        return is_algorithm(signature, rsa, '\x01') ||
               is_algorithm(signature, rsa, static_cast<char>(which + 10)) ||
               is_algorithm(signature, ecdsa, static_cast<char>(which + 1));
    }
    return false;
}

Token token_of(std::string_view bytes) {
    const unsigned char* at = bytes_of(bytes);
    Token token{d2i_PKCS7(nullptr, &at, static_cast<long>(bytes.size()))};
    ERR_clear_error();
    const bool is_whole = token && at == bytes_of(bytes) + bytes.size() &&
                          PKCS7_type_is_signed(token.get()) == 1 && token->d.sign != nullptr;
    if (!is_whole) token.reset();
    return token;
}

PKCS7_SIGNER_INFO* only_signer(PKCS7* token) {
    STACK_OF(PKCS7_SIGNER_INFO)* all = PKCS7_get_signer_info(token);
    return all != nullptr && sk_PKCS7_SIGNER_INFO_num(all) == 1
               ? sk_PKCS7_SIGNER_INFO_value(all, 0)
               : nullptr;
}

/// The signer's certificate; it belongs to the stamp.
X509* only_authority(PKCS7* token) {
    STACK_OF(X509)* signers = PKCS7_get0_signers(token, nullptr, 0);
    X509* authority =
        signers != nullptr && sk_X509_num(signers) == 1 ? sk_X509_value(signers, 0) : nullptr;
    sk_X509_free(signers);
    return authority;
}

/// ECDSA has two values for each signature; only the lower one counts, here as in a seal.
std::string one_signature(PKCS7_SIGNER_INFO* signer, X509* authority) {
    const std::string_view given{reinterpret_cast<const char*>(ASN1_STRING_get0_data(signer->enc_digest)),
                                 static_cast<std::size_t>(ASN1_STRING_length(signer->enc_digest))};
    EVP_PKEY* key = X509_get0_pubkey(authority);
    if (key == nullptr || EVP_PKEY_is_a(key, "EC") != 1) return std::string{given};
    std::array<char, 64> curve{};
    EVP_PKEY_get_group_name(key, curve.data(), curve.size(), nullptr);
    return lower_form(given, OBJ_txt2nid(curve.data()));
}

/// Nothing in the wrapping that could be written in another way and mean the same.
bool is_one_form(PKCS7* token, PKCS7_SIGNER_INFO* signer, X509* authority) {
    PKCS7_SIGNED* wrapping = token->d.sign;
    const bool numbers = ASN1_INTEGER_get(wrapping->version) == 3 &&
                         ASN1_INTEGER_get(signer->version) == 1 && signer->unauth_attr == nullptr &&
                         sk_X509_num(wrapping->cert) == 1 && wrapping->crl == nullptr &&
                         sk_X509_ALGOR_num(wrapping->md_algs) == 1;
    if (!numbers) return false;
    const std::string digest = der_of(signer->digest_alg, i2d_X509_ALGOR);
    PKCS7_ISSUER_AND_SERIAL* who = signer->issuer_and_serial;
    const std::string signature{reinterpret_cast<const char*>(ASN1_STRING_get0_data(signer->enc_digest)),
                                static_cast<std::size_t>(ASN1_STRING_length(signer->enc_digest))};
    return der_of(sk_X509_ALGOR_value(wrapping->md_algs, 0), i2d_X509_ALGOR) == digest &&
           is_known_pair(digest, der_of(signer->digest_enc_alg, i2d_X509_ALGOR)) &&
           der_of(who->issuer, i2d_X509_NAME) ==
               der_of(X509_get_issuer_name(authority), i2d_X509_NAME) &&
           der_of(who->serial, i2d_ASN1_INTEGER) ==
               der_of(X509_get0_serialNumber(authority), i2d_ASN1_INTEGER) &&
           signature == one_signature(signer, authority);
}

/// The library's judgement: signature, purpose "time stamping", mark of the certificate. The
/// authority's own certificate is the one trusted here.
bool library_agrees(PKCS7* token, X509* authority) {
    const Store trusted{X509_STORE_new()};
    X509_STORE_add_cert(trusted.get(), authority);
    X509_STORE_set_flags(trusted.get(), X509_V_FLAG_NO_CHECK_TIME | X509_V_FLAG_PARTIAL_CHAIN);
    X509* signer = nullptr;
    const bool agrees = TS_RESP_verify_signature(token, nullptr, trusted.get(), &signer) == 1;
    X509_free(signer);
    return agrees;
}

std::string imprint_in(TS_TST_INFO* info) {
    TS_MSG_IMPRINT* imprint = TS_TST_INFO_get_msg_imprint(info);
    const std::string algorithm = der_of(TS_MSG_IMPRINT_get_algo(imprint), i2d_X509_ALGOR);
    if (!is_algorithm(algorithm, sha2, '\x01')) return {};
    const ASN1_OCTET_STRING* hash = TS_MSG_IMPRINT_get_msg(imprint);
    return {reinterpret_cast<const char*>(ASN1_STRING_get0_data(hash)),
            static_cast<std::size_t>(ASN1_STRING_length(hash))};
}

std::string time_in(TS_TST_INFO* info) {
    tm time{};
    if (ASN1_TIME_to_tm(TS_TST_INFO_get_time(info), &time) != 1) return {};
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", time.tm_year + 1900, time.tm_mon + 1,
                       time.tm_mday, time.tm_hour, time.tm_min, time.tm_sec);
}

std::string name_of(X509* certificate) {
    std::array<char, 256> name{};
    X509_NAME_get_text_by_NID(X509_get_subject_name(certificate), NID_commonName, name.data(),
                              static_cast<int>(name.size()));
    return name.data();
}

tl::unexpected<Problem> no_stamp(std::string what) {
    return refused({.what = std::move(what),
                    .where = "time stamp",
                    .what_to_do = "The report is good without it. Issue it again later, or name "
                                  "another stamp server.",
                    .kind = ProblemKind::NotStored});
}

/// The stamp in its one form. Other certificates go: the signature does not cover them, so no
/// byte of theirs would be vouched for; whoever trusts the authority has them.
std::string slimmed(PKCS7* token, PKCS7_SIGNER_INFO* signer, X509* authority) {
    STACK_OF(X509)* all = token->d.sign->cert;
    for (int i = sk_X509_num(all) - 1; i >= 0; --i) {
        if (sk_X509_value(all, i) != authority) X509_free(sk_X509_delete(all, i));
    }
    const std::string signature = one_signature(signer, authority);
    ASN1_OCTET_STRING_set(signer->enc_digest, bytes_of(signature), static_cast<int>(signature.size()));
    return der_of(token, i2d_PKCS7);
}

}  // namespace

std::string stamp_request(std::string_view stamped, std::string_view nonce) {
    const std::string one = "\x02\x01\x01";
    const std::string algorithm =
        der(tag::sequence, oid("\x60\x86\x48\x01\x65\x03\x04\x02\x01") + std::string("\x05\x00", 2));
    const std::string imprint = der(tag::sequence, algorithm + der(tag::octets, sha256(stamped)));
    return der(tag::sequence, one + imprint + positive_integer(nonce) + "\x01\x01\xff");
}

Result<std::string> stamp_from(std::string_view answer, std::string_view stamped,
                               std::string_view nonce) {
    const unsigned char* at = bytes_of(answer);
    const Answer read{d2i_TS_RESP(nullptr, &at, static_cast<long>(answer.size()))};
    ERR_clear_error();
    if (!read) return no_stamp("The stamp server's answer is no time stamp.");
    const long status = ASN1_INTEGER_get(TS_STATUS_INFO_get0_status(TS_RESP_get_status_info(read.get())));
    PKCS7* token = TS_RESP_get_token(read.get());
    if (status != TS_STATUS_GRANTED || token == nullptr) {
        return no_stamp(fmt::format("The stamp server refused (status {}).", status));
    }
    const ASN1_INTEGER* given = TS_TST_INFO_get_nonce(TS_RESP_get_tst_info(read.get()));
    if (given == nullptr || der_of(given, i2d_ASN1_INTEGER) != positive_integer(nonce)) {
        return no_stamp("The stamp server answered another question.");
    }
    PKCS7_SIGNER_INFO* signer = only_signer(token);
    X509* authority = signer == nullptr ? nullptr : only_authority(token);
    const std::string stamp = authority == nullptr ? "" : slimmed(token, signer, authority);
    ERR_clear_error();
    const StampReading reading = read_stamp(stamp, stamped);
    if (!reading.reasons.empty()) return no_stamp(reading.reasons.front());
    return stamp;
}

StampReading read_stamp(std::string_view stamp, std::string_view stamped) {
    StampReading reading;
    const auto no = [&](const char* reason) {
        reading.reasons.emplace_back(reason);
        ERR_clear_error();
        return reading;
    };
    const Token token = token_of(stamp);
    PKCS7_SIGNER_INFO* signer = token ? only_signer(token.get()) : nullptr;
    X509* authority = signer == nullptr ? nullptr : only_authority(token.get());
    const Info info{authority == nullptr ? nullptr : PKCS7_to_TS_TST_INFO(token.get())};
    if (!info) return no("The time stamp is none of one authority.");
    reading.at = time_in(info.get());
    reading.authority = name_of(authority);
    reading.fingerprint = certificate_fingerprint(der_of(authority, i2d_X509));
    if (imprint_in(info.get()) != sha256(stamped)) {
        return no("The time stamp belongs to another signature.");
    }
    if (reading.at.empty()) return no("The time of the time stamp cannot be read.");
    if (der_of(token.get(), i2d_PKCS7) != stamp || !is_one_form(token.get(), signer, authority)) {
        return no("The time stamp is not written in the one form that leaves no room for additions.");
    }
    if (!library_agrees(token.get(), authority)) {
        return no("The time stamp was not made with the key of the authority inside.");
    }
    return reading;
}

}  // namespace wm::digest
