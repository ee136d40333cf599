// Whether a report, a paper print-out or the journal is as it was written.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "desk/desk.hpp"
#include "handover/paper_proof.hpp"

namespace wm::desk {

struct AttestView {
    bool genuine = false;
    std::vector<std::string> reasons;
    std::string signer, fingerprint, signed_at, job, head;
    std::string stamped_at, stamped_by;  ///< of the time stamp in the seal; "" without one
    std::string reissue_of;              ///< SHA-256 of the report it stands for; "" for a first one
    std::optional<bool> in_journal;  ///< none without a journal to look into
    bool sealer_known = false;       ///< the seal bears the fingerprint asked for, or that of the company here
};

/// `expect` is the fingerprint the seal must have, "" for any: then an unknown sealer is said to be
/// one. With a journal, the report is looked for in its job by its SHA-256; only that job is read.
[[nodiscard]] AttestView attest_file(const std::string& pdf, const std::string& expect,
                                     const store::Journal* journal);

/// A fingerprint as people write it (blanks, colons, capital letters) in the 64 digits that are
/// compared; a text that is none comes back as it is and equals nothing.
[[nodiscard]] std::string bare_fingerprint(std::string_view written);

struct PaperView {
    bool genuine = false;
    std::vector<std::string> reasons;  ///< why it is not, or what still has to be compared
    handover::PaperFacts facts;
    std::string fingerprint;           ///< of the company that signed; "" while nobody's word is known
    std::optional<bool> in_journal;
};

/// The text of a square code. Who vouches for it must be known: `vouching` holds the root
/// certificates (DER) at hand, `expect` the fingerprint it must have ("" for any of these). With a
/// journal its own company vouches too, and the record is looked for. A problem: no code of ours.
[[nodiscard]] Result<PaperView> attest_paper(std::string_view code, const std::string& expect,
                                             std::vector<std::string> vouching, const store::Journal* journal);

struct JournalView {
    bool genuine = false;
    std::int64_t entries = 0;
    std::int64_t by_hand = 0;  ///< of them, with a time given by hand
    struct Device {
        std::string device;
        std::int64_t entries = 0;
        std::string head;
    };
    std::vector<Device> devices;
    std::vector<std::string> reasons;
};
[[nodiscard]] Result<JournalView> attest_journal(Desk& desk);

/// What a person needs to check our own chain by hand: the file of the chain, the public key in PEM,
/// the claim of the head and its signature, and the numbered steps.
struct ByHand {
    std::string chain, key_pem, claim, signature, steps;
};
[[nodiscard]] Result<ByHand> chain_by_hand(Desk& desk);

}  // namespace wm::desk
