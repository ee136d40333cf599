#include "digest/seal.hpp"

#include <openssl/err.h>

#include <algorithm>
#include <array>
#include <string>

#include "digest/der.hpp"
#include "digest/hash.hpp"
#include "digest/openssl_parts.hpp"
#include "digest/time_stamp.hpp"

namespace wm::digest {
namespace {

using namespace openssl;

std::string data_oid() {
    return oid("\x2a\x86\x48\x86\xf7\x0d\x01\x07\x01");
}
std::string signed_data_oid() {
    return oid("\x2a\x86\x48\x86\xf7\x0d\x01\x07\x02");
}
std::string sha256_oid() {
    return oid("\x60\x86\x48\x01\x65\x03\x04\x02\x01");
}
std::string ecdsa_sha256_oid() {
    return oid("\x2a\x86\x48\xce\x3d\x04\x03\x02");
}
std::string content_type_oid() {
    return oid("\x2a\x86\x48\x86\xf7\x0d\x01\x09\x03");
}
std::string message_digest_oid() {
    return oid("\x2a\x86\x48\x86\xf7\x0d\x01\x09\x04");
}
std::string signing_certificate_oid() {
    return oid("\x2a\x86\x48\x86\xf7\x0d\x01\x09\x10\x02\x2f");
}

// --- the parts of a seal ------------------------------------------------------------------------

struct Pair {
    Certificate signer;
    Certificate root;
};

std::string issuer_of(X509* certificate) {
    return der_of(X509_get_issuer_name(certificate), i2d_X509_NAME);
}
std::string serial_of(X509* certificate) {
    return der_of(X509_get0_serialNumber(certificate), i2d_ASN1_INTEGER);
}

std::string attribute(const std::string& type, const std::string& value) {
    return der(tag::sequence, type + der(tag::set, value));
}

/// Content of the SET of signed attributes. RFC 5035: the hash algorithm SHA-256 is the default
/// and is left out.
std::string signed_attributes(std::string_view digest, X509* signer) {
    const std::string certificate_hash = sha256(der_of(signer, i2d_X509));
    const std::string issuer_serial =
        der(tag::sequence,
            der(tag::sequence, der(tag::context_4, issuer_of(signer))) + serial_of(signer));
    const std::string certificate_id =
        der(tag::sequence, der(tag::octets, certificate_hash) + issuer_serial);
    return set_of({attribute(content_type_oid(), data_oid()),
                   attribute(message_digest_oid(), der(tag::octets, digest)),
                   attribute(signing_certificate_oid(),
                             der(tag::sequence, der(tag::sequence, certificate_id)))});
}

struct Variable {
    std::string digest;
    std::string signature;
    std::string unsigned_attributes;  ///< as DER with its tag; empty in a seal of our own
};

/// The one encoding of a seal. Nothing in it is free but certificates, digest and signature, and
/// so a changed byte is either one of these, which are checked, or shows here.
std::string assembled(const Pair& pair, const Variable& variable) {
    const std::string one = "\x02\x01\x01";
    const std::string signer_info =
        der(tag::sequence,
            one + der(tag::sequence, issuer_of(pair.signer.get()) + serial_of(pair.signer.get())) +
                der(tag::sequence, sha256_oid()) +
                der(tag::context_0, signed_attributes(variable.digest, pair.signer.get())) +
                der(tag::sequence, ecdsa_sha256_oid()) + der(tag::octets, variable.signature) +
                variable.unsigned_attributes);
    const std::string certificates =
        set_of({der_of(pair.signer.get(), i2d_X509), der_of(pair.root.get(), i2d_X509)});
    const std::string signed_data =
        der(tag::sequence, one + der(tag::set, der(tag::sequence, sha256_oid())) +
                               der(tag::sequence, data_oid()) + der(tag::context_0, certificates) +
                               der(tag::set, signer_info));
    return der(tag::sequence, signed_data_oid() + der(tag::context_0, signed_data));
}

// --- checking -----------------------------------------------------------------------------------

std::string common_name(X509* certificate) {
    X509_NAME* name = X509_get_subject_name(certificate);
    const int at = X509_NAME_get_index_by_NID(name, NID_commonName, -1);
    if (at < 0) return {};
    unsigned char* text = nullptr;
    const int length =
        ASN1_STRING_to_UTF8(&text, X509_NAME_ENTRY_get_data(X509_NAME_get_entry(name, at)));
    if (length < 0) return {};
    std::string out{reinterpret_cast<const char*>(text), static_cast<std::size_t>(length)};
    OPENSSL_free(text);
    return out;
}

/// The two certificates inside, told apart by who signed.
Pair certificates_in(CMS_ContentInfo* cms, CMS_SignerInfo* signer) {
    Pair pair;
    STACK_OF(X509)* all = CMS_get1_certs(cms);
    const int count = all == nullptr ? 0 : sk_X509_num(all);
    for (int i = 0; count == 2 && i < count; ++i) {
        X509* each = sk_X509_value(all, i);
        X509_up_ref(each);
        (CMS_SignerInfo_cert_cmp(signer, each) == 0 ? pair.signer : pair.root).reset(each);
    }
    sk_X509_pop_free(all, X509_free);
    return pair;
}

bool leads_to_root(const Pair& pair) {
    EVP_PKEY* root_key = X509_get0_pubkey(pair.root.get());
    return root_key != nullptr && X509_verify(pair.root.get(), root_key) == 1 &&
           X509_verify(pair.signer.get(), root_key) == 1 &&
           X509_check_issued(pair.root.get(), pair.signer.get()) == X509_V_OK &&
           X509_check_ca(pair.root.get()) == 1 && X509_check_ca(pair.signer.get()) == 0;
}

bool is_valid_at(X509* certificate, std::int64_t at) {
    time_t time = at;
    return X509_cmp_time(X509_get0_notBefore(certificate), &time) < 0 &&
           X509_cmp_time(X509_get0_notAfter(certificate), &time) > 0;
}

/// The unsigned attributes that hold nothing but a time stamp (id-aa-signatureTimeStampToken).
std::string stamp_attributes(std::string_view stamp) {
    const std::string type = oid("\x2a\x86\x48\x86\xf7\x0d\x01\x09\x10\x02\x0e");
    return der(tag::context_1, attribute(type, std::string{stamp}));
}

/// A lone time stamp, or "" for no attribute at all; nullopt for anything else.
std::optional<std::string> time_stamp_in(CMS_SignerInfo* signer) {
    const int count = CMS_unsigned_get_attr_count(signer);
    if (count <= 0) return std::string{};
    X509_ATTRIBUTE* only = CMS_unsigned_get_attr(signer, 0);
    if (count != 1 || X509_ATTRIBUTE_count(only) != 1 ||
        OBJ_obj2nid(X509_ATTRIBUTE_get0_object(only)) != NID_id_smime_aa_timeStampToken) {
        return std::nullopt;
    }
    const ASN1_TYPE* value = X509_ATTRIBUTE_get0_type(only, 0);
    if (value == nullptr || value->type != V_ASN1_SEQUENCE) return std::nullopt;
    return std::string{reinterpret_cast<const char*>(value->value.sequence->data),
                       static_cast<std::size_t>(value->value.sequence->length)};
}

/// A CMS of one signer; the signer belongs to it.
struct Parsed {
    Cms cms;
    CMS_SignerInfo* signer = nullptr;
};

Parsed parsed(std::string_view der_bytes) {
    const unsigned char* begin = bytes_of(der_bytes);
    Parsed out{Cms{d2i_CMS_ContentInfo(nullptr, &begin, static_cast<long>(der_bytes.size()))}};
    STACK_OF(CMS_SignerInfo)* signers =
        out.cms && OBJ_obj2nid(CMS_get0_type(out.cms.get())) == NID_pkcs7_signed
            ? CMS_get0_SignerInfos(out.cms.get())
            : nullptr;
    if (signers != nullptr && sk_CMS_SignerInfo_num(signers) == 1) {
        out.signer = sk_CMS_SignerInfo_value(signers, 0);
    }
    return out;
}

/// What the library thinks of it, with the root inside as the only one trusted.
bool library_agrees(CMS_ContentInfo* cms, const Pair& pair, std::string_view bytes) {
    const Store trusted{X509_STORE_new()};
    X509_STORE_add_cert(trusted.get(), pair.root.get());
    X509_STORE_set_flags(trusted.get(), X509_V_FLAG_NO_CHECK_TIME);
    X509_STORE_set_purpose(trusted.get(), X509_PURPOSE_ANY);
    const Bio content{BIO_new_mem_buf(bytes.data(), static_cast<int>(bytes.size()))};
    return CMS_verify(cms, nullptr, trusted.get(), content.get(), nullptr,
                      CMS_BINARY | CMS_CADES) == 1;
}

std::string text_of(const ASN1_OCTET_STRING* string) {
    return {reinterpret_cast<const char*>(ASN1_STRING_get0_data(string)),
            static_cast<std::size_t>(ASN1_STRING_length(string))};
}

void read_stamp_into(SealCheck& check, std::string_view stamp, std::string_view signature) {
    StampReading reading = read_stamp(stamp, signature);
    check.stamped_at = std::move(reading.at);
    check.stamp_authority = std::move(reading.authority);
    check.stamp_fingerprint = std::move(reading.fingerprint);
    check.reasons.insert(check.reasons.end(), reading.reasons.begin(), reading.reasons.end());
}

void judge(SealCheck& check, std::string_view bytes, std::string_view der_bytes,
           std::optional<std::int64_t> at) {
    const auto no = [&](const char* reason) { check.reasons.emplace_back(reason); };
    const auto [cms, signer] = parsed(der_bytes);
    if (signer == nullptr) return no("This is not a signature of one signer.");
    const Pair pair = certificates_in(cms.get(), signer);
    if (!pair.signer || !pair.root) {
        return no("The signature does not carry the signer's certificate and its root.");
    }
    check.signer = common_name(pair.signer.get());
    check.root_certificate = der_of(pair.root.get(), i2d_X509);
    check.root_fingerprint = certificate_fingerprint(check.root_certificate);
    const auto stamp = time_stamp_in(signer);
    const Variable variable{sha256(bytes), text_of(CMS_SignerInfo_get0_signature(signer)),
                            stamp.value_or("").empty() ? "" : stamp_attributes(*stamp)};
    const auto* digest = static_cast<const ASN1_OCTET_STRING*>(CMS_signed_get0_data_by_OBJ(
        signer, OBJ_nid2obj(NID_pkcs9_messageDigest), -3, V_ASN1_OCTET_STRING));
    if (digest == nullptr || text_of(digest) != variable.digest) {
        no("The bytes are not the ones that were sealed.");
    } else if (!stamp || assembled(pair, variable) != der_bytes ||
               lower_form(variable.signature) != variable.signature) {
        no("The signature is not written in the one form that leaves no room for additions.");
    }
    if (stamp && !stamp->empty()) read_stamp_into(check, *stamp, variable.signature);
    if (!leads_to_root(pair)) no("The signer's certificate does not lead to the root beside it.");
    if (at && !(is_valid_at(pair.signer.get(), *at) && is_valid_at(pair.root.get(), *at))) {
        no("A certificate was not valid at the time of signing.");
    }
    if (check.reasons.empty() && !library_agrees(cms.get(), pair, bytes)) {
        no("The signature was not made with the key of the certificate inside.");
    }
}

}  // namespace

Result<std::string> sign_detached(std::string_view bytes, const CompanyKeys& keys) {
    const Key key = private_key_of(keys.signing_key);
    const Pair pair{certificate_of(keys.signing_certificate),
                    certificate_of(keys.root_certificate)};
    if (!key || !pair.signer || !pair.root ||
        X509_check_private_key(pair.signer.get(), key.get()) != 1) {
        return library_problem("The company's keys do not fit together.", "company key");
    }
    Variable variable{sha256(bytes), {}, {}};
    const std::string attributes =
        der(tag::set, signed_attributes(variable.digest, pair.signer.get()));
    variable.signature = lower_form(ecdsa_signature(key.get(), attributes));
    if (variable.signature.empty()) return library_problem("The seal was not made.", "company key");
    return assembled(pair, variable);
}

std::string signature_value(std::string_view der_bytes) {
    const auto [cms, signer] = parsed(der_bytes);
    ERR_clear_error();
    return signer == nullptr ? std::string{} : text_of(CMS_SignerInfo_get0_signature(signer));
}

Result<std::string> with_time_stamp(std::string_view der_bytes, std::string_view stamp) {
    const auto [cms, signer] = parsed(der_bytes);
    const Pair pair = signer == nullptr ? Pair{} : certificates_in(cms.get(), signer);
    const auto* digest = signer == nullptr ? nullptr : static_cast<const ASN1_OCTET_STRING*>(
        CMS_signed_get0_data_by_OBJ(signer, OBJ_nid2obj(NID_pkcs9_messageDigest), -3,
                                    V_ASN1_OCTET_STRING));
    if (digest == nullptr || !pair.signer || !pair.root || CMS_unsigned_get_attr_count(signer) > 0) {
        return library_problem("This seal cannot take a time stamp.", "time stamp");
    }
    const Variable variable{text_of(digest), text_of(CMS_SignerInfo_get0_signature(signer)),
                            stamp_attributes(stamp)};
    const StampReading reading = read_stamp(stamp, variable.signature);
    if (!reading.reasons.empty()) return library_problem(reading.reasons.front(), "time stamp");
    return assembled(pair, variable);
}

SealCheck verify_detached(std::string_view bytes, std::string_view der_bytes,
                          std::optional<std::int64_t> at) {
    SealCheck check;
    judge(check, bytes, der_bytes, at);
    check.valid = check.reasons.empty();
    ERR_clear_error();
    return check;
}

}  // namespace wm::digest
