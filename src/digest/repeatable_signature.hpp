// ECDSA whose nonce follows from key and message: the same word of the company every time.
//
// Certificates and the company's word on a device stand in the journal, and the same job must give
// the same bytes. Used by the root key alone, a few times in its life; seals are randomised.
// For the sources of this room.
#pragma once

#include <string>
#include <string_view>

#include "digest/openssl_parts.hpp"

namespace wm::digest {

/// DER-encoded P-256 signature with SHA-256; empty when the key is no private P-256 key.
/// Source: RFC 6979, section 3.2.
[[nodiscard]] std::string repeatable_signature(EVP_PKEY* key, std::string_view message);

}  // namespace wm::digest
