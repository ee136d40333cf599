#include "digest/company.hpp"

#include <fmt/format.h>
#include <openssl/core_names.h>
#include <openssl/err.h>
#include <openssl/param_build.h>
#include <openssl/pem.h>

#include <array>

#include "digest/der.hpp"
#include "digest/document.hpp"
#include "digest/hash.hpp"
#include "digest/openssl_parts.hpp"
#include "digest/repeatable_signature.hpp"
#include "digest/text.hpp"

namespace wm::digest {
namespace {

using namespace openssl;

using Builder = std::unique_ptr<OSSL_PARAM_BLD, Release<OSSL_PARAM_BLD_free>>;
using Params = std::unique_ptr<OSSL_PARAM, Release<OSSL_PARAM_free>>;
using BnContext = std::unique_ptr<BN_CTX, Release<BN_CTX_free>>;
using Extension = std::unique_ptr<X509_EXTENSION, Release<X509_EXTENSION_free>>;

constexpr std::size_t bytes_per_key = 48;

/// The P-256 key with secret (bytes mod (n - 1)) + 1. 128 bits more than the order keep the
/// remainder even. Source: FIPS 186-5 A.2.1 (from memory).
Key key_of(std::string_view random_bytes) {
    const Group group{EC_GROUP_new_by_curve_name(NID_X9_62_prime256v1)};
    const BnContext context{BN_CTX_new()};
    const Number wide{
        BN_bin2bn(bytes_of(random_bytes), static_cast<int>(random_bytes.size()), nullptr)};
    const Number limit{BN_dup(EC_GROUP_get0_order(group.get()))};
    const Number secret{BN_new()};
    const Point point{EC_POINT_new(group.get())};
    if (BN_sub_word(limit.get(), 1) != 1 ||
        BN_nnmod(secret.get(), wide.get(), limit.get(), context.get()) != 1 ||
        BN_add_word(secret.get(), 1) != 1 ||
        EC_POINT_mul(group.get(), point.get(), secret.get(), nullptr, nullptr, context.get()) !=
            1) {
        return nullptr;
    }
    std::array<unsigned char, 65> open{};
    if (EC_POINT_point2oct(group.get(), point.get(), POINT_CONVERSION_UNCOMPRESSED, open.data(),
                           open.size(), context.get()) != open.size()) {
        return nullptr;
    }
    const Builder builder{OSSL_PARAM_BLD_new()};
    OSSL_PARAM_BLD_push_utf8_string(builder.get(), OSSL_PKEY_PARAM_GROUP_NAME, "prime256v1", 0);
    OSSL_PARAM_BLD_push_BN(builder.get(), OSSL_PKEY_PARAM_PRIV_KEY, secret.get());
    OSSL_PARAM_BLD_push_octet_string(builder.get(), OSSL_PKEY_PARAM_PUB_KEY, open.data(),
                                     open.size());
    const Params params{OSSL_PARAM_BLD_to_param(builder.get())};
    const KeyContext maker{EVP_PKEY_CTX_new_from_name(nullptr, "EC", nullptr)};
    EVP_PKEY* key = nullptr;
    if (EVP_PKEY_fromdata_init(maker.get()) != 1 ||
        EVP_PKEY_fromdata(maker.get(), &key, EVP_PKEY_KEYPAIR, params.get()) != 1) {
        return nullptr;
    }
    return Key{key};
}

void add_name(X509_NAME* name, const char* field, std::string_view text) {
    X509_NAME_add_entry_by_txt(name, field, MBSTRING_UTF8, bytes_of(text),
                               static_cast<int>(text.size()), -1, 0);
}

struct ExtensionText {
    int nid;
    const char* value;
};

struct CertificateOrder {
    EVP_PKEY* key = nullptr;  ///< of the subject
    EVP_PKEY* issuer_key = nullptr;
    X509* issuer = nullptr;  ///< null = itself
    std::string common_name;
    std::string organisation;
    ValidTime valid;
    std::vector<ExtensionText> extensions;
};

/// 16 bytes of the hash of the public key: unique without a counter that could be lost.
bool set_serial(X509* certificate, EVP_PKEY* key) {
    std::string serial = sha256(der_of(key, i2d_PUBKEY)).substr(0, 16);
    serial[0] = static_cast<char>((static_cast<unsigned char>(serial[0]) & 0x3fU) | 0x40U);
    const Number number{BN_bin2bn(bytes_of(serial), static_cast<int>(serial.size()), nullptr)};
    return BN_to_ASN1_INTEGER(number.get(), X509_get_serialNumber(certificate)) != nullptr;
}

Certificate certificate_for(const CertificateOrder& order) {
    Certificate made{X509_new()};
    X509* issuer = order.issuer == nullptr ? made.get() : order.issuer;
    add_name(X509_get_subject_name(made.get()), "O", order.organisation);
    add_name(X509_get_subject_name(made.get()), "CN", order.common_name);
    bool ok = X509_set_version(made.get(), X509_VERSION_3) == 1 &&
              set_serial(made.get(), order.key) &&
              X509_set_issuer_name(made.get(), X509_get_subject_name(issuer)) == 1 &&
              X509_set_pubkey(made.get(), order.key) == 1 &&
              ASN1_TIME_set(X509_getm_notBefore(made.get()), order.valid.from) != nullptr &&
              ASN1_TIME_set(X509_getm_notAfter(made.get()), order.valid.until) != nullptr;
    X509V3_CTX context;
    X509V3_set_ctx(&context, issuer, made.get(), nullptr, nullptr, 0);
    for (const ExtensionText& text : order.extensions) {
        const Extension extension{X509V3_EXT_conf_nid(nullptr, &context, text.nid, text.value)};
        ok = ok && extension && X509_add_ext(made.get(), extension.get(), -1) == 1;
    }
    // Signed once by the library, which also writes the algorithm down, and then again repeatably.
    ok = ok && X509_sign(made.get(), order.issuer_key, EVP_sha256()) > 0;
    if (!ok) return nullptr;
    const std::string content = der_of(made.get(), i2d_re_X509_tbs);
    const std::string signature = repeatable_signature(order.issuer_key, content);
    return certificate_of(der(tag::sequence, content + der(tag::sequence, ecdsa_sha256_oid()) +
                                                 der(tag::bits, '\0' + signature)));
}

std::string pkcs8_of(EVP_PKEY* key) {
    PKCS8_PRIV_KEY_INFO* info = EVP_PKEY2PKCS8(key);
    std::string der = der_of(info, i2d_PKCS8_PRIV_KEY_INFO);
    PKCS8_PRIV_KEY_INFO_free(info);
    return der;
}

}  // namespace

Result<CompanyKeys> make_company_keys(std::string_view random_bytes, std::string_view name,
                                      ValidTime valid) {
    if (random_bytes.size() != 2 * bytes_per_key || name.empty() || name.size() > 64 ||
        !is_utf8(name) || valid.from < 0 || valid.until <= valid.from) {
        return refused({.what =
                            "Company keys need a name of 1 to 64 bytes, a time to be valid for, "
                            "and 96 random bytes.",
                        .where = fmt::format("company \"{}\"", name),
                        .what_to_do = "Give the company a shorter name, or check the clock.",
                        .kind = ProblemKind::WrongUse});
    }
    const Key root_key = key_of(random_bytes.substr(0, bytes_per_key));
    const Key signing_key = key_of(random_bytes.substr(bytes_per_key));
    if (!root_key || !signing_key)
        return library_problem("No company key could be made.", "company");
    const Certificate root = certificate_for(
        {.key = root_key.get(),
         .issuer_key = root_key.get(),
         .issuer = nullptr,
         .common_name = "Company root",
         .organisation = std::string{name},
         .valid = valid,
         .extensions = {{NID_basic_constraints, "critical,CA:TRUE,pathlen:0"},
                        {NID_key_usage, "critical,keyCertSign,cRLSign,digitalSignature"},
                        {NID_subject_key_identifier, "hash"}}});
    const Certificate signing =
        !root ? nullptr
              : certificate_for(
                    {.key = signing_key.get(),
                     .issuer_key = root_key.get(),
                     .issuer = root.get(),
                     .common_name = std::string{name},
                     .organisation = std::string{name},
                     .valid = valid,
                     .extensions = {{NID_basic_constraints, "critical,CA:FALSE"},
                                    {NID_key_usage, "critical,digitalSignature,nonRepudiation"},
                                    {NID_subject_key_identifier, "hash"},
                                    {NID_authority_key_identifier, "keyid:always"}}});
    if (!signing) return library_problem("No certificate could be made.", "company");
    return CompanyKeys{pkcs8_of(root_key.get()), der_of(root.get(), i2d_X509),
                       pkcs8_of(signing_key.get()), der_of(signing.get(), i2d_X509)};
}

std::string root_fingerprint(const CompanyKeys& keys) {
    return certificate_fingerprint(keys.root_certificate);
}

std::string certificate_fingerprint(std::string_view certificate_der) {
    return sha256_hex(certificate_der);
}

Result<std::string> sign_as_company(const CompanyKeys& keys, std::string_view message) {
    const Key key = private_key_of(keys.root_key);
    std::string signature = key ? repeatable_signature(key.get(), message) : std::string{};
    if (signature.empty()) return library_problem("The company key cannot sign.", "company key");
    return signature;
}

bool is_signed_by_company(std::string_view root_certificate, std::string_view message,
                          std::string_view signature) {
    const Certificate root = certificate_of(root_certificate);
    EVP_PKEY* key = root ? X509_get0_pubkey(root.get()) : nullptr;
    return key != nullptr && is_ecdsa_signature(key, message, signature);
}

std::optional<std::string> certificate_der(std::string_view bytes) {
    if (certificate_of(bytes)) return std::string{bytes};
    const Bio text{BIO_new_mem_buf(bytes.data(), static_cast<int>(bytes.size()))};
    if (!text) return std::nullopt;
    const Certificate certificate{PEM_read_bio_X509(text.get(), nullptr, nullptr, nullptr)};
    if (!certificate) return std::nullopt;
    unsigned char* out = nullptr;
    const int size = i2d_X509(certificate.get(), &out);
    if (size <= 0) return std::nullopt;
    std::string der{reinterpret_cast<const char*>(out), static_cast<std::size_t>(size)};
    OPENSSL_free(out);
    return der;
}

std::string company_file(const CompanyKeys& keys) {
    Document file = Document::object();
    file.set("root_certificate", Document{to_hex(keys.root_certificate)})
        .set("root_key", Document{to_hex(keys.root_key)})
        .set("signing_certificate", Document{to_hex(keys.signing_certificate)})
        .set("signing_key", Document{to_hex(keys.signing_key)});
    return canonical_text(file).value_or("") + "\n";
}

Result<CompanyKeys> read_company_file(std::string_view text, std::string_view where) {
    const auto file = read_document(text, where);
    if (!file) return refused(file.error());
    const auto bytes = [&](std::string_view name) {
        const Document* member = file->find(name);
        const std::string* digits = member == nullptr ? nullptr : member->text();
        return digits == nullptr ? std::string{} : from_hex(*digits).value_or("");
    };
    CompanyKeys keys{bytes("root_key"), bytes("root_certificate"), bytes("signing_key"),
                     bytes("signing_certificate")};
    if (!private_key_of(keys.root_key) || !private_key_of(keys.signing_key) ||
        !certificate_of(keys.root_certificate) || !certificate_of(keys.signing_certificate)) {
        return refused({.what = "The company's keys cannot be read.",
                        .where = std::string{where},
                        .what_to_do =
                            "Restore the file from a copy. Without it no new report can be "
                            "sealed; old seals stay good.",
                        .kind = ProblemKind::Unreadable});
    }
    return keys;
}

}  // namespace wm::digest
