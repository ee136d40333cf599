#include "desk/attest.hpp"

#include <fmt/format.h>

#include "digest/company.hpp"
#include "digest/hash.hpp"
#include "digest/sign.hpp"
#include "handover/seal.hpp"
#include "record/chain.hpp"
#include "record/state.hpp"

namespace wm::desk {

AttestView attest_file(const std::string& pdf, const std::string& expect, const store::Journal* journal) {
    const auto judged = handover::attest_report(pdf);
    AttestView view{.genuine = judged.genuine,
                    .reasons = judged.reasons,
                    .signer = judged.signer,
                    .fingerprint = judged.root_fingerprint,
                    .signed_at = judged.signed_at,
                    .job = judged.job,
                    .head = judged.head,
                    .stamped_at = judged.stamped_at,
                    .stamped_by = judged.stamp_authority,
                    .reissue_of = judged.reissue_of,
                    .in_journal = std::nullopt,
                    .sealer_known = false};
    std::string wanted = bare_fingerprint(expect);
    if (journal != nullptr && wanted.empty())
        if (const auto& company = journal->keys().company()) wanted = digest::root_fingerprint(*company);
    view.sealer_known = view.genuine && !wanted.empty() && wanted == view.fingerprint;
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
    if (journal == nullptr || view.job.empty()) return view;
    const auto entries = journal->read_job(view.job);
    if (!entries) return view;
    // A report issued again is known by the one it stands for, which the journal holds.
    const std::string hash = view.reissue_of.empty() ? digest::sha256_hex(pdf) : view.reissue_of;
    const auto state = record::folded(view.job, entries->entries);
    view.in_journal = state.handover && state.handover->handed.pdf_sha256 == hash;
    for (const auto& earlier : state.earlier_handovers) {
        if (earlier.handed.pdf_sha256 != hash) continue;
        view.in_journal = true;
        if (view.genuine) view.reasons.emplace_back("A later supplement belongs to this report.");
    }
    if (view.genuine && !*view.in_journal)
        view.reasons.emplace_back("The journal here holds no handover of this very file.");
    return view;
}

std::string bare_fingerprint(std::string_view written) {
    std::string digits;
    for (const char letter : written) {
        if (letter == ' ' || letter == ':' || letter == '\n' || letter == '\t' || letter == '-') continue;
        digits += letter >= 'A' && letter <= 'F' ? static_cast<char>(letter - 'A' + 'a') : letter;
    }
    const bool is_one = digits.size() == 64 && digits.find_first_not_of("0123456789abcdef") == std::string::npos;
    return is_one ? digits : std::string{written};
}

Result<PaperView> attest_paper(std::string_view code, const std::string& expect, std::vector<std::string> vouching,
                               const store::Journal* journal) {
    const auto paper = handover::read_paper_proof(code);
    if (!paper) return tl::unexpected(paper.error());
    PaperView view{.genuine = false, .reasons = {}, .facts = paper->facts, .fingerprint = "", .in_journal = std::nullopt};
    const auto wanted = bare_fingerprint(expect);
    if (journal != nullptr)
        if (const auto& company = journal->keys().company()) vouching.push_back(company->root_certificate);
    for (const auto& certificate : vouching) {
        const auto fingerprint = digest::certificate_fingerprint(certificate);
        if (!wanted.empty() && fingerprint != wanted) continue;
        if (handover::is_signed_by(*paper, certificate)) view.fingerprint = fingerprint;
    }
    view.genuine = !view.fingerprint.empty();
    if (!wanted.empty() && (paper->facts.company.size() != 32 || !wanted.starts_with(paper->facts.company)))
        view.reasons.emplace_back("The code names another company than the one expected.");
    else if (!view.genuine && vouching.empty())
        view.reasons.emplace_back(
            "Nobody's word is at hand to compare with. Give the sealed report that came by mail, or the company's "
            "certificate: --expect FILE.");
    else if (!view.genuine)
        view.reasons.emplace_back("The signature does not belong to these facts and this company.");
    if (journal == nullptr) return view;
    view.in_journal = false;
    const auto entries = journal->read_job(view.facts.job);
    if (entries && view.facts.head.size() == 32)
        for (const auto& written : entries->entries)
            if (written.hash.starts_with(view.facts.head)) view.in_journal = true;
    if (view.genuine && !*view.in_journal)
        view.reasons.emplace_back("The journal here holds no such job with this head.");
    return view;
}

Result<JournalView> attest_journal(Desk& desk) {
    const auto report = desk.journal().verify_journal();
    if (!report) return tl::unexpected(report.error());
    JournalView view{.genuine = report->is_genuine(),
                     .entries = static_cast<std::int64_t>(report->chains.entries),
                     .by_hand = report->by_hand,
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
