// Puts the company's seal on a report, and judges a report that came from outside.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "problem/result.hpp"

namespace wm::handover {

/// Makes the detached CMS signature in DER over the bytes given.
using Sealer = std::function<Result<std::string>(std::string_view covered)>;

/// Fills the empty place of a report made by draw_report. Nothing moves and nothing is added; the
/// signature covers every byte but its own place. A problem if the bytes have no such place, if
/// signing did not work, or if the signature is larger than the place.
[[nodiscard]] Result<std::string> seal_report(std::string report, const Sealer& sealer);

struct Attestation {
    bool genuine = false;              ///< sealed by `root_fingerprint` and unaltered since
    std::vector<std::string> reasons;  ///< why not, as sentences; empty if genuine
    std::string signer;                ///< name in the certificate
    std::string root_fingerprint;      ///< 64 hexadecimal digits: compare with what is published
    std::string root_certificate;      ///< DER, of which that is the fingerprint
    std::string signed_at;             ///< RFC 3339, as the sealed file says
    std::string stamped_at;            ///< RFC 3339, by the time stamp in the seal; empty without
    std::string stamp_authority;       ///< its name, and the SHA-256 of its certificate
    std::string stamp_fingerprint;
    std::string job;
    std::string head;        ///< of the record, hexadecimal
    std::string reissue_of;  ///< SHA-256 of the report it stands for; empty for a first report
};

/// Judges the bytes of a file. Accepts only the shape seal_report gives: one revision, one seal
/// over everything from the first byte to the last, lower-case digits padded with zeros, no script,
/// no action, no layer, nothing hidden, nothing after the end. Total. Whether the fingerprint is
/// that of the company one trusts is the caller's question.
[[nodiscard]] Attestation attest_report(std::string_view file);

}  // namespace wm::handover
