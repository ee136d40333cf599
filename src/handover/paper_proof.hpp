// The signed core facts of a job as short text, for the square code on page one.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "problem/result.hpp"

namespace wm::handover {

/// What a paper print-out is checked against, in this order. Values are short and of one line.
struct PaperFacts {
    std::string job;
    std::string state;  ///< full, restricted, not handed over
    std::string date;
    std::string place;    ///< the site's code or short address
    std::string checks;   ///< "61 of 61 conform"
    std::string hottest;  ///< "46 °C"; empty if not measured
    std::string head;     ///< first 32 hexadecimal digits of the head of the chain
    std::string company;  ///< first 32 hexadecimal digits of the company's fingerprint

    friend bool operator==(const PaperFacts&, const PaperFacts&) = default;
};

/// Ed25519 over the bytes given; 64 bytes back.
using ProofSigner = std::function<std::string(std::string_view)>;

/// Text of lines "key=value", beginning with the line "WM1" and ending with the lines
/// "key=" (public key) and "sig=" (signature over all before this line), both base64url without
/// padding. A reader of another version must refuse a first line it does not know.
/// A problem if a value holds a line break, or the key or signature has a wrong length.
[[nodiscard]] Result<std::string> paper_proof(const PaperFacts& facts, std::string_view public_key,
                                              const ProofSigner& sign);

struct PaperReading {
    PaperFacts facts;
    std::string device;      ///< id of the key that signed, compare with the record's devices
    bool is_signed = false;  ///< the signature belongs to these facts and this key
};

/// Reads such a text. A problem if it is no proof of ours; a wrong signature is no problem but
/// `is_signed == false`.
[[nodiscard]] Result<PaperReading> read_paper_proof(std::string_view text);

/// RFC 4648 section 5, without padding.
[[nodiscard]] std::string base64url(std::string_view bytes);

}  // namespace wm::handover
