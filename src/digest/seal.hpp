// The seal on a report: a detached CMS signature in the CAdES form that a PDF reader verifies.
//
// Signed attributes are content-type, message-digest and signing-certificate-v2; there is no
// signing-time (the form for PDF forbids it, the date stands in the PDF) and no unsigned attribute
// but, in a seal that came from elsewhere, a time stamp. Both certificates travel inside.
// Sources: RFC 5652, RFC 5035, ETSI EN 319 122-1, EN 319 142-1 (clauses from memory).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "digest/company.hpp"
#include "problem/result.hpp"

namespace wm::digest {

/// The signature over `bytes` in DER; at most some 2 KiB.
[[nodiscard]] Result<std::string> sign_detached(std::string_view bytes, const CompanyKeys& keys);

/// The signature value inside a seal of ours: what a time stamp is asked for. Empty if it is none.
[[nodiscard]] std::string signature_value(std::string_view der);

/// The seal with this time stamp (time_stamp.hpp) as its only unsigned attribute, which is level
/// B-T. A problem if the stamp does not belong to it or it has one already.
[[nodiscard]] Result<std::string> with_time_stamp(std::string_view der, std::string_view stamp);

struct SealCheck {
    /// The signature is whole, made over these bytes by the certificate inside, which leads to
    /// the root inside. Whether that root is one to trust is the reader's question: compare
    /// `root_fingerprint` with what the company publishes.
    bool valid = false;
    std::string signer;                ///< name in the signing certificate; empty if unreadable
    std::string root_fingerprint;      ///< 64 hexadecimal digits; empty if unreadable
    std::string root_certificate;      ///< DER; empty if unreadable
    std::string stamped_at;            ///< RFC 3339, by a time stamp; empty without one
    std::string stamp_authority;       ///< name of who stamped, and the SHA-256 of their certificate
    std::string stamp_fingerprint;
    std::vector<std::string> reasons;  ///< why it is not valid, as sentences; empty if it is
};

/// Judges a signature in DER. Total: bytes that are no signature give a SealCheck that says so.
/// Encoding again must give the same bytes, so nothing can hide between the fields.
/// `at` (seconds since 1970), when given, must lie inside the validity of both certificates.
[[nodiscard]] SealCheck verify_detached(std::string_view bytes, std::string_view der,
                                        std::optional<std::int64_t> at = std::nullopt);

}  // namespace wm::digest
