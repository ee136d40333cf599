// Time stamps after RFC 3161: a third party's word that a signature existed at a time.
//
// The stamp sits beside the signature and is not covered by it, so nothing in it may be free: one
// form of every field, no unsigned attribute, and no certificate but the authority's own, which the
// stamp names by its hash. Whether the authority is one to trust is the reader's question, as with the root
// of a company. Sources: RFC 3161, RFC 5816, RFC 5652; ETSI EN 319 142-1 (level B-T, from memory).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "problem/result.hpp"

namespace wm::digest {

/// What is sent to a stamp server for these bytes (a signature value), as TimeStampReq in DER.
/// `nonce` is 8 random bytes and must be given again to read the answer.
[[nodiscard]] std::string stamp_request(std::string_view stamped, std::string_view nonce);

/// The stamp out of a server's answer, without certificates nobody needs. A problem if the server
/// refused, if the answer belongs to another question, or if the stamp would not be accepted later.
[[nodiscard]] Result<std::string> stamp_from(std::string_view answer, std::string_view stamped,
                                             std::string_view nonce);

struct StampReading {
    std::string at;                    ///< RFC 3339 in UTC; empty if unreadable
    std::string authority;             ///< name in the authority's certificate
    std::string fingerprint;           ///< SHA-256 of that certificate, 64 hexadecimal digits
    std::vector<std::string> reasons;  ///< why it is not a stamp of these bytes; empty if it is
};

/// Judges a stamp over these bytes. Total.
[[nodiscard]] StampReading read_stamp(std::string_view stamp, std::string_view stamped);

}  // namespace wm::digest
