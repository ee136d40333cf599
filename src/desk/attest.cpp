#include "desk/attest.hpp"

#include <fmt/format.h>

#include "digest/hash.hpp"
#include "digest/sign.hpp"
#include "handover/seal.hpp"
#include "record/chain.hpp"

namespace wm::desk {

AttestView attest_file(const std::string& pdf, const std::string& expect, Desk* desk) {
    const auto judged = handover::attest_report(pdf);
    AttestView view{.genuine = judged.genuine,
                    .reasons = judged.reasons,
                    .signer = judged.signer,
                    .fingerprint = judged.root_fingerprint,
                    .signed_at = judged.signed_at,
                    .job = judged.job,
                    .head = judged.head,
                    .in_journal = std::nullopt};
    std::string wanted = expect;
    if (desk != nullptr && wanted.empty())
        if (const auto& company = desk->journal().keys().company()) wanted = digest::root_fingerprint(*company);
    if (!wanted.empty() && view.genuine && wanted != view.fingerprint) {
        view.genuine = expect.empty();
        view.reasons.push_back(
            expect.empty() ? "The file is unaltered, but its sealer is unknown here: compare the fingerprint with the one the "
                             "company publishes."
                           : fmt::format("The seal is by another company: its fingerprint is {}.", view.fingerprint));
    } else if (wanted.empty() && view.genuine) {
        view.reasons.emplace_back(
            "The file is unaltered. Whether the sealer is the company, only its published fingerprint can tell.");
    }
    if (desk == nullptr || view.job.empty()) return view;
    const auto states = desk->all_states();
    if (!states) return view;
    const std::string hash = digest::sha256_hex(pdf);
    view.in_journal = false;
    for (const auto& state : *states)
        if (state.handover && state.handover->handed.pdf_sha256 == hash) view.in_journal = true;
    if (view.genuine && !*view.in_journal)
        view.reasons.emplace_back("The journal here holds no handover of this very file.");
    return view;
}

Result<JournalView> attest_journal(Desk& desk) {
    const auto report = desk.journal().verify_journal();
    if (!report) return tl::unexpected(report.error());
    JournalView view{.genuine = report->is_genuine(),
                     .entries = static_cast<std::int64_t>(report->chains.entries),
                     .devices = {},
                     .reasons = report->reasons};
    for (const auto& head : report->chains.heads) view.devices.push_back({head.device, head.seq, head.hash});
    return view;
}

Result<ByHand> chain_by_hand(Desk& desk) {
    const auto chain = desk.journal().read_chain(desk.journal().device(), 1);
    if (!chain) return tl::unexpected(chain.error());
    const auto file = record::chain_file(chain->entries);
    if (!file) return tl::unexpected(file.error());
    const auto heads = desk.journal().signed_heads();
    if (!heads) return tl::unexpected(heads.error());
    for (const auto& head : *heads) {
        if (head.head.device != desk.journal().device()) continue;
        return ByHand{.chain = *file,
                      .key_pem = digest::public_key_pem(head.public_key),
                      .claim = record::head_claim(head.head),
                      .signature = head.signature,
                      .steps = record::explain_chain(head, "chain.txt")};
    }
    return refused({"This journal has no entries yet, so there is no chain to check.", desk.setup().data.string(),
                    "Open a job first.", ProblemKind::Refused});
}

}  // namespace wm::desk
