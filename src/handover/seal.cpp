#include "handover/seal.hpp"

#include <optional>

#include "digest/hash.hpp"
#include "digest/seal.hpp"
#include "handover/pdf_shape.hpp"

namespace wm::handover {

namespace {

tl::unexpected<Problem> refused_seal(std::string what, std::string what_to_do) {
    return refused({.what = std::move(what),
                    .where = "seal of the report",
                    .what_to_do = std::move(what_to_do),
                    .kind = ProblemKind::NotStored});
}

std::string covered_bytes(std::string_view file, SealSlot slot) {
    std::string covered{file.substr(0, slot.from)};
    return covered += file.substr(slot.to);
}

int count_of(std::string_view file, std::string_view words) {
    int count = 0;
    for (std::size_t at = file.find(words); at != std::string_view::npos;
         at = file.find(words, at + 1)) {
        ++count;
    }
    return count;
}

/// Length of the DER element at the start, head included; nullopt if it has none that fits.
std::optional<std::size_t> der_length(std::string_view bytes) {
    if (bytes.size() < 2 || bytes[0] != '\x30') return std::nullopt;
    const auto first = static_cast<unsigned char>(bytes[1]);
    if (first < 0x80) return std::size_t{2} + first;
    const std::size_t count = first & 0x7fu;
    if (count == 0 || count > 3 || bytes.size() < 2 + count) return std::nullopt;
    std::size_t length = 0;
    for (std::size_t i = 0; i < count; ++i) {
        length = (length << 8) | static_cast<unsigned char>(bytes[2 + i]);
    }
    return 2 + count + length;
}

/// The signature out of its place, whose rest must be zeros.
std::optional<std::string> signature_in(std::string_view file, SealSlot slot) {
    const auto held = digest::from_hex(file.substr(slot.from + 1, slot.to - slot.from - 2));
    if (!held) return std::nullopt;
    const auto length = der_length(*held);
    if (!length || *length > held->size()) return std::nullopt;
    if (held->find_first_not_of('\0', *length) != std::string::npos) return std::nullopt;
    return held->substr(0, *length);
}

void check_outside(std::string_view file, std::vector<std::string>& reasons) {
    constexpr std::string_view begin = "%PDF-1.7\n";
    constexpr std::string_view end = "%%EOF\n";
    if (file.substr(0, begin.size()) != begin) {
        reasons.emplace_back("The file does not begin as our reports do.");
    }
    if (file.size() < end.size() || file.substr(file.size() - end.size()) != end) {
        reasons.emplace_back(
            "There is something after the end of the report, or its end is missing.");
    }
    if (count_of(file, "%%EOF") != 1 || count_of(file, "startxref") != 1) {
        reasons.emplace_back(
            "The file was changed after it was made: it has more than one revision.");
    }
}

}  // namespace

Result<std::string> seal_report(std::string report, const Sealer& sealer) {
    const auto slot = seal_slot(report);
    if (!slot) {
        return refused_seal("This file has no place for a seal.",
                            "Make the report again with this program.");
    }
    std::string sealed = with_byte_range(std::move(report), *slot);
    const auto signature = sealer(covered_bytes(sealed, *slot));
    if (!signature) return tl::unexpected<Problem>(signature.error());
    if (signature->empty() || signature->size() > seal_room) {
        return refused_seal("The signature does not fit into its place in the report.",
                            "Use a key whose certificates are shorter than 32 KiB together.");
    }
    const std::string digits = digest::to_hex(*signature);
    return sealed.replace(slot->from + 1, digits.size(), digits);
}

Attestation attest_report(std::string_view file) {
    Attestation result;
    check_outside(file, result.reasons);
    const auto slot = seal_slot(file);
    if (!slot) {
        result.reasons.emplace_back("There is no seal of ours on this file.");
        return result;
    }
    const auto bare = unsealed(std::string{file}, *slot);
    if (!bare) {
        result.reasons.emplace_back("The seal does not cover the whole file.");
        return result;
    }
    const auto signature = signature_in(file, *slot);
    if (!signature) {
        result.reasons.emplace_back("The place of the seal holds no signature.");
        return result;
    }
    const auto check = digest::verify_detached(covered_bytes(file, *slot), *signature);
    result.signer = check.signer;
    result.root_fingerprint = check.root_fingerprint;
    result.root_certificate = check.root_certificate;
    result.stamped_at = check.stamped_at;
    result.stamp_authority = check.stamp_authority;
    result.stamp_fingerprint = check.stamp_fingerprint;
    result.reasons.insert(result.reasons.end(), check.reasons.begin(), check.reasons.end());
    if (!check.valid) {
        if (check.reasons.empty()) {
            result.reasons.emplace_back("The signature does not belong to this file.");
        }
        return result;  // what an altered file says about itself is not worth reading
    }
    ShapeReading shape = read_shape(*bare);
    result.reasons.insert(result.reasons.end(), shape.reasons.begin(), shape.reasons.end());
    result.job = std::move(shape.job);
    result.head = std::move(shape.head);
    result.reissue_of = std::move(shape.reissue_of);
    result.signed_at = std::move(shape.signed_at);
    result.genuine = result.reasons.empty();
    return result;
}

}  // namespace wm::handover
