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

/// The company's signature over the bytes given, in DER: digest::sign_as_company.
using ProofSigner = std::function<Result<std::string>(std::string_view)>;

/// Text of lines "key=value", beginning with the line "WM2" and ending with the line "sig="
/// (signature over all before it, base64url without padding). A reader of another version must
/// refuse a first line it does not know. The key is not in it: a code that brought its own key would
/// prove nothing. A problem if a value holds a line break, or signing did not work.
[[nodiscard]] Result<std::string> paper_proof(const PaperFacts& facts, const ProofSigner& sign);

struct PaperReading {
    PaperFacts facts;
    std::string covered;    ///< what was signed
    std::string signature;  ///< DER
};

/// Reads such a text. A problem if it is no proof of ours. Nothing is proved by that.
[[nodiscard]] Result<PaperReading> read_paper_proof(std::string_view text);

/// Whether the company of this root certificate (DER) signed these facts, and the facts name it.
[[nodiscard]] bool is_signed_by(const PaperReading& paper, std::string_view root_certificate);

/// RFC 4648 section 5, without padding.
[[nodiscard]] std::string base64url(std::string_view bytes);

}  // namespace wm::handover
