// A time stamp authority of our own, by the library's other half: it answers what we ask.
#pragma once

#include <openssl/ts.h>

#include <string>

#include "digest/openssl_parts.hpp"

namespace wm::digest::testing {

class StampAuthority {
public:
    StampAuthority() : key_{EVP_EC_gen("P-256")}, certificate_{X509_new()} {
        X509* c = certificate_.get();
        X509_set_version(c, X509_VERSION_3);
        ASN1_INTEGER_set(X509_get_serialNumber(c), 7);
        ASN1_TIME_set(X509_getm_notBefore(c), 1'700'000'000);
        ASN1_TIME_set(X509_getm_notAfter(c), 2'500'000'000);
        X509_NAME_add_entry_by_txt(X509_get_subject_name(c), "CN", MBSTRING_UTF8,
                                   openssl::bytes_of(std::string_view{"Tarnhollow Clock"}), -1, -1, 0);
        X509_set_issuer_name(c, X509_get_subject_name(c));
        X509_set_pubkey(c, key_.get());
        add(NID_ext_key_usage, "critical,timeStamping");
        add(NID_key_usage, "critical,digitalSignature");
        X509_sign(c, key_.get(), EVP_sha256());
    }

    /// TimeStampResp in DER to a TimeStampReq in DER.
    [[nodiscard]] std::string answer(const std::string& request) const {
        TS_RESP_CTX* context = TS_RESP_CTX_new();
        TS_RESP_CTX_set_signer_cert(context, certificate_.get());
        TS_RESP_CTX_set_signer_key(context, key_.get());
        TS_RESP_CTX_set_signer_digest(context, EVP_sha256());
        TS_RESP_CTX_set_ess_cert_id_digest(context, EVP_sha256());
        ASN1_OBJECT* policy = OBJ_txt2obj("1.2.3.4.1", 1);
        TS_RESP_CTX_set_def_policy(context, policy);
        TS_RESP_CTX_add_md(context, EVP_sha256());
        const openssl::Bio in{BIO_new_mem_buf(request.data(), static_cast<int>(request.size()))};
        TS_RESP* made = TS_RESP_create_response(context, in.get());
        std::string bytes = openssl::der_of(made, i2d_TS_RESP);
        TS_RESP_free(made);
        ASN1_OBJECT_free(policy);
        TS_RESP_CTX_free(context);
        return bytes;
    }

private:
    void add(int nid, const char* value) {
        X509V3_CTX context;
        X509V3_set_ctx(&context, certificate_.get(), certificate_.get(), nullptr, nullptr, 0);
        X509_EXTENSION* extension = X509V3_EXT_conf_nid(nullptr, &context, nid, value);
        X509_add_ext(certificate_.get(), extension, -1);
        X509_EXTENSION_free(extension);
    }

    openssl::Key key_;
    openssl::Certificate certificate_;
};

}  // namespace wm::digest::testing
