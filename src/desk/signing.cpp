// Signatures: only a job that nothing stands against is signed.
#include <fmt/format.h>

#include <algorithm>

#include "desk/desk.hpp"
#include "desk/permission.hpp"
#include "desk/rules.hpp"
#include "desk/strokes.hpp"
#include "digest/hash.hpp"
#include "digest/text.hpp"

namespace wm::desk {

namespace {

// What is read back before signing, in one text whose hash the signature keeps.
std::string summary_of(const std::vector<record::CheckStanding>& checks, const std::string& job) {
    std::string summary = job + "\n";
    for (const auto& check : checks)
        summary += fmt::format("{} {}\n", check.id, measure::in_words(check.outcome));
    return summary;
}

}  // namespace

Result<void> Desk::carry_out(const Sign& intent) {
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    if (intent.name.empty())
        return refused({"The name of the person who signs is missing.", "job " + intent.job, "Write --name NAME.",
                        ProblemKind::WrongUse});
    if (hand->state().handover)
        return refused({"The job is handed over already.", "job " + intent.job,
                        "Open a revisit or service job after this one.", ProblemKind::Refused});
    const auto role = intent.role == Signer::Crew ? record::SignRole::Crew : record::SignRole::Customer;
    if (role == record::SignRole::Crew && !intent.refused_because.empty())
        return refused({"The crew cannot refuse its own record.", "job " + intent.job,
                        "Correct what is wrong, or leave the job unsigned.", ProblemKind::WrongUse});
    Assessment assessment{*hand};
    const auto standings = assessment.standings();
    if (const auto whole = is_whole(*hand); !whole) return tl::unexpected(whole.error());
    const bool survey = std::any_of(hand->list->checks.begin(), hand->list->checks.end(), [](const auto& check) {
        return checklist::computed_by_rule(check) == checklist::ComputedRule::SurveyVerdict;
    });
    if (role == record::SignRole::Customer && asks_leave_first(*hand->list)) {
        // Leave to be on the roof is given before anything is read.
    } else if (survey) {
        // "Not suited" is a finding like any other: the survey is signed once it is finished.
        if (const auto verdict = survey_verdict(by_title(*hand, standings)); verdict.outcome == measure::Outcome::Open)
            return refused({verdict.why, "job " + intent.job, "Finish the survey first.", ProblemKind::Refused});
    } else if (!record::ready_to_sign(intent.job, standings)) {
        return refused(in_the_way_of_signing(*hand, standings));
    }
    record::SignedBy signature{.role = role,
                               .name = {"", digest::composed(intent.name)},
                               .strokes = std::nullopt,
                               .summary_hash = digest::sha256_hex(summary_of(standings, intent.job)),
                               .refused = std::nullopt,
                               .by = author(setup_, hand->facts().word("crew.lead").value_or("crew"))};
    if (!intent.refused_because.empty())
        signature.refused = record::Personal{"", digest::composed(intent.refused_because)};
    if (!intent.strokes.empty()) {
        auto kept = journal_.keep(hand->state().opened->customer, strokes_to_svg(intent.strokes), "image/svg+xml", "");
        if (!kept) return tl::unexpected(kept.error());
        signature.strokes = std::move(*kept);
    }
    auto written = append(*hand, {{intent.job, std::move(signature)}});
    if (!written) return tl::unexpected(written.error());
    return {};
}

}  // namespace wm::desk
