#include "desk/survey_report.hpp"

#include <algorithm>

#include "desk/reissue.hpp"
#include "desk/rules.hpp"
#include "desk/survey_sun.hpp"
#include "desk/view_parts.hpp"
#include "digest/company.hpp"
#include "handover/seal.hpp"

namespace wm::desk {

namespace {

bool is_survey(const checklist::Checklist& list) {
    return std::any_of(list.checks.begin(), list.checks.end(), [](const auto& check) {
        return checklist::computed_by_rule(check) == checklist::ComputedRule::SurveyVerdict;
    });
}

handover::SurveyFinding finding_of(const JobInHand& job, const record::CheckStanding& standing) {
    handover::SurveyFinding finding{.check_id = standing.id, .title = standing.id, .until = "", .on_fail = ""};
    if (const auto* check = job.list->find(checklist::CheckId{standing.id})) {
        finding.title = check->title;
        finding.on_fail = check->on_fail;
    }
    if (standing.conceded) finding.how = handover::FoundHow::Accepted;
    else if (standing.outcome == Outcome::Inconclusive) finding.how = handover::FoundHow::Unsure;
    else if (standing.outcome == Outcome::Deferred) finding.how = handover::FoundHow::PutOff;
    if (standing.deferral) finding.until = standing.deferral->until;
    return finding;
}

std::vector<handover::SurveyFinding> findings_of(const JobInHand& job, const std::vector<record::CheckStanding>& standings,
                                                 const std::vector<std::string>& ids) {
    std::vector<handover::SurveyFinding> all;
    for (const auto& standing : standings)
        if (std::find(ids.begin(), ids.end(), standing.id) != ids.end()) all.push_back(finding_of(job, standing));
    return all;
}

/// Who signed the verdict, if the signature still counts.
std::string surveyor_of(const JobInHand& job) {
    for (const auto& signature : job.state().signatures)
        if (signature.by.role == record::SignRole::Crew && !signature.by.refused && counts(job, signature)) return record::shown(signature.by.name);
    return "";
}

}  // namespace

Result<handover::SurveyReport> survey_report(Desk& desk, const std::string& job) {
    const auto hand = desk.in_hand(job);
    if (!hand) return tl::unexpected(hand.error());
    const auto view = desk.job_view(job);
    if (!view) return tl::unexpected(view.error());
    if (!is_survey(*hand->list))
        return refused({"This job is no survey.", "job " + job, "Name the job of the survey; a handover has witnessmark job report.",
                        ProblemKind::Refused});
    if (const auto whole = is_whole(*hand); !whole) return tl::unexpected(whole.error());
    Assessment assessment{*hand};
    const auto standings = assessment.survey_standings();
    if (const auto verdict = survey_verdict(by_title(*hand, standings)); verdict.outcome == Outcome::Open)
        return refused({verdict.why, "job " + job, "Finish the survey first.", ProblemKind::Refused});
    const auto found = survey_findings(standings);
    auto sun = sun_of_survey(*hand, *view);
    const auto& setup = desk.setup();
    const std::string address = fact_text(hand->state(), "site.address");
    handover::SurveyReport report{.job = job,
                                  .company = setup.company,
                                  .contact = setup.company_contact,
                                  .place = address.empty() ? place_of(hand->state()) : address,
                                  .date = day_of(setup.now()),
                                  .surveyor = surveyor_of(*hand),
                                  .practice = view->row.practice,
                                  .suited = !found.blocking.empty()     ? handover::Suited::No
                                            : !found.conditions.empty() ? handover::Suited::WithConditions
                                                                        : handover::Suited::Yes,
                                  .blocking = findings_of(*hand, standings, found.blocking),
                                  .conditions = findings_of(*hand, standings, found.conditions),
                                  .plane = std::move(sun.plane),
                                  .of_best_plane = sun.of_best_plane,
                                  .shade = std::move(sun.shade),
                                  .shade_read = sun.shade_read,
                                  .sun_band = std::move(sun.sun_band),
                                  .need_band = std::move(sun.need_band),
                                  .expectation = std::move(sun.expectation),
                                  .fingerprint = "",
                                  .head = desk.journal().head().hash,
                                  .written = printed_moment(setup.now()),
                                  .paper = setup.paper,
                                  .fonts = setup.fonts};
    const auto& company = desk.journal().keys().company();
    if (company && !report.surveyor.empty()) report.fingerprint = digest::root_fingerprint(*company);
    return report;
}

Result<SurveyPaper> survey_paper(Desk& desk, const handover::SurveyReport& report) {
    auto drawn = handover::draw_survey(report);
    if (!drawn) return tl::unexpected(drawn.error());
    const auto& company = desk.journal().keys().company();
    if (!company || report.fingerprint.empty()) return SurveyPaper{std::move(*drawn), ""};
    SurveyPaper paper;
    auto sealed = handover::seal_report(std::move(*drawn), [&](std::string_view covered) {
        return sealed_with_stamp(desk.setup(), *company, covered, paper.unstamped);
    });
    if (!sealed) return tl::unexpected(sealed.error());
    paper.file = std::move(*sealed);
    return paper;
}

}  // namespace wm::desk
