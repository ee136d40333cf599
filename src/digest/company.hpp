// The keys of the company: a root that signs device keys, and the certificate that seals reports.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "problem/result.hpp"

namespace wm::digest {

/// Seconds since 1970-01-01T00:00:00Z, both inside the years 1970 to 9999.
struct ValidTime {
    std::int64_t from = 0;
    std::int64_t until = 0;
};

/// A self-made root and a signing certificate under it, both ECDSA P-256 with SHA-256.
/// Keys are PKCS #8 in DER and secret; certificates are X.509 v3 in DER and public.
struct CompanyKeys {
    std::string root_key;
    std::string root_certificate;
    std::string signing_key;
    std::string signing_certificate;
};

/// Makes both pairs from 96 random bytes. `name` is the company as it shall stand in the
/// certificate (1 to 64 bytes of UTF-8). The same arguments give the same bytes, certificates
/// included.
[[nodiscard]] Result<CompanyKeys> make_company_keys(std::string_view random_bytes,
                                                    std::string_view name, ValidTime valid);

/// SHA-256 of the root certificate as 64 hexadecimal digits: what page one prints and a company
/// publishes. The same figure as `openssl x509 -fingerprint -sha256` without colons.
[[nodiscard]] std::string root_fingerprint(const CompanyKeys& keys);

/// As above for a certificate in DER.
[[nodiscard]] std::string certificate_fingerprint(std::string_view certificate_der);

/// DER of the first certificate in a PEM text, or of bytes that are DER already; nullopt otherwise.
[[nodiscard]] std::optional<std::string> certificate_der(std::string_view bytes);

/// The company's word on a device key: a DER-encoded ECDSA signature by the root key; the same
/// for the same message.
[[nodiscard]] Result<std::string> sign_as_company(const CompanyKeys& keys,
                                                  std::string_view message);

/// False for a wrong signature or a certificate that cannot be read.
[[nodiscard]] bool is_signed_by_company(std::string_view root_certificate, std::string_view message,
                                        std::string_view signature);

/// One text file with all four parts, and back. Written with mode 0600 by `store`.
[[nodiscard]] std::string company_file(const CompanyKeys& keys);
[[nodiscard]] Result<CompanyKeys> read_company_file(std::string_view text, std::string_view where);

}  // namespace wm::digest
