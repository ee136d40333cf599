#include "handover/paper_proof.hpp"

#include <array>
#include <optional>

#include "digest/company.hpp"

namespace wm::handover {

namespace {

constexpr std::string_view first_line = "WM2\n";
constexpr std::string_view digits =
    "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

struct Field {
    std::string_view key;
    std::string PaperFacts::*value;
};
constexpr std::array<Field, 8> fields{{{"job", &PaperFacts::job},
                                       {"state", &PaperFacts::state},
                                       {"date", &PaperFacts::date},
                                       {"place", &PaperFacts::place},
                                       {"checks", &PaperFacts::checks},
                                       {"hottest", &PaperFacts::hottest},
                                       {"head", &PaperFacts::head},
                                       {"company", &PaperFacts::company}}};

std::optional<std::string> bytes_of(std::string_view text) {
    std::string bytes;
    unsigned held = 0;
    int bits = 0;
    for (const char c : text) {
        const auto value = digits.find(c);
        if (value == std::string_view::npos) return std::nullopt;
        held = ((held << 6) | static_cast<unsigned>(value)) & 0xffffu;
        bits += 6;
        if (bits < 8) continue;
        bits -= 8;
        bytes += static_cast<char>((held >> bits) & 0xffu);
    }
    // Left-over bits must be zero, so that one signature has one spelling.
    if (bits >= 6 || (held & ((1u << bits) - 1u)) != 0) return std::nullopt;
    return bytes;
}

tl::unexpected<Problem> refused_proof(std::string what, std::string what_to_do) {
    return refused({.what = std::move(what),
                    .where = "square code",
                    .what_to_do = std::move(what_to_do),
                    .kind = ProblemKind::Unreadable});
}

tl::unexpected<Problem> refused_foreign() {
    return refused_proof("The code holds no handover facts of this program's kind.",
                         "Scan the square code on page one of a handover report.");
}

/// Takes "key=value\n" off the front.
std::optional<std::string> take_line(std::string_view& rest, std::string_view key) {
    if (rest.substr(0, key.size()) != key || rest.substr(key.size(), 1) != "=") return std::nullopt;
    const std::size_t end = rest.find('\n');
    if (end == std::string_view::npos) return std::nullopt;
    std::string value{rest.substr(key.size() + 1, end - key.size() - 1)};
    rest.remove_prefix(end + 1);
    return value;
}

}  // namespace

std::string base64url(std::string_view bytes) {
    std::string text;
    unsigned held = 0;
    int bits = 0;
    for (const char byte : bytes) {
        held = ((held << 8) | static_cast<unsigned char>(byte)) & 0xffffu;
        bits += 8;
        while (bits >= 6) {
            bits -= 6;
            text += digits[(held >> bits) & 0x3fu];
        }
    }
    if (bits > 0) text += digits[(held << (6 - bits)) & 0x3fu];
    return text;
}

Result<std::string> paper_proof(const PaperFacts& facts, const ProofSigner& sign) {
    std::string text{first_line};
    for (const Field& field : fields) {
        const std::string& value = facts.*field.value;
        if (value.find_first_of("\r\n") != std::string::npos) {
            return refused_proof("A fact for the square code holds a line break.",
                                 "Write it in one line.");
        }
        text += std::string{field.key} + "=" + value + "\n";
    }
    const auto signature = sign(text);
    if (!signature) return tl::unexpected(signature.error());
    return text + "sig=" + base64url(*signature) + "\n";
}

Result<PaperReading> read_paper_proof(std::string_view text) {
    if (text.substr(0, first_line.size()) != first_line) return refused_foreign();
    std::string_view rest = text.substr(first_line.size());
    PaperReading reading;
    for (const Field& field : fields) {
        auto value = take_line(rest, field.key);
        if (!value) return refused_foreign();
        reading.facts.*field.value = std::move(*value);
    }
    reading.covered = text.substr(0, text.size() - rest.size());
    const auto signature_text = take_line(rest, "sig");
    if (!signature_text || !rest.empty()) return refused_foreign();
    auto signature = bytes_of(*signature_text);
    if (!signature) return refused_foreign();
    reading.signature = std::move(*signature);
    return reading;
}

bool is_signed_by(const PaperReading& paper, std::string_view root_certificate) {
    const auto fingerprint = digest::certificate_fingerprint(root_certificate);
    return paper.facts.company.size() == 32 && fingerprint.starts_with(paper.facts.company) &&
           digest::is_signed_by_company(root_certificate, paper.covered, paper.signature);
}

}  // namespace wm::handover
