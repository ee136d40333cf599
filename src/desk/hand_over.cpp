// The handover: report drawn, sealed, recorded and queued in one go.
#include <fmt/format.h>

#include <algorithm>

#include "desk/desk.hpp"
#include "desk/outbox.hpp"
#include "desk/put_off.hpp"
#include "desk/reissue.hpp"
#include "desk/report_of.hpp"
#include "desk/report_words.hpp"
#include "desk/rules.hpp"
#include "desk/view_parts.hpp"
#include "digest/company.hpp"
#include "digest/hash.hpp"
#include "digest/sign.hpp"
#include "handover/calendar.hpp"
#include "handover/contact_card.hpp"
#include "handover/page_one_words.hpp"
#include "handover/paper_proof.hpp"
#include "handover/report.hpp"
#include "handover/seal.hpp"

namespace wm::desk {

namespace {

// Photos and signatures of the job, as far as their key is still there.
std::map<std::string, std::string> files_of(const record::JobState& state, const store::Journal& journal) {
    std::map<std::string, std::string> files;
    const auto take = [&](const record::Attached& attached) {
        if (auto bytes = journal.attachment(attached.id)) files.emplace(attached.id, std::move(*bytes));
    };
    for (const auto& [id, check] : state.checks)
        for (const auto& reading : check.readings)
            for (const auto& photo : reading.taken.photos) take(photo);
    for (const auto& signature : state.signatures)
        if (signature.by.strokes) take(*signature.by.strokes);
    return files;
}

int conforming(const JobView& view) {
    int count = 0;
    for (const auto& check : view.checks)
        if (check.outcome == Outcome::Conforms && check.form != EntryForm::Signature) ++count;
    return count;
}

int applying(const JobView& view) {
    int count = 0;
    for (const auto& check : view.checks)
        if (check.applies && check.form != EntryForm::Signature) ++count;
    return count;
}

// A lasting name of the house, which says nothing of who lives there.
std::string house_of(const record::JobState& state) {
    return "house-" + digest::sha256_hex(state.opened->customer).substr(0, 16);
}

std::string calendar_of(const handover::ReportInput& input, const std::string& house, const std::string& warranty_until) {
    handover::CareCalendar care{.house = house,
                                .job = input.job,
                                .company = input.company,
                                .place = input.place,
                                .written = input.written,
                                .dates = {},
                                .name = {},
                                .language = input.language};
    const auto& say = input.language;
    const std::string whose = language::filled(say.text("Job {job}, {company}"), {{"job", input.job}, {"company", input.company}});
    const auto of_heater = [&](const std::string& what) {
        return language::filled(say.text("Solar water heater: {what}"), {{"what", what}});
    };
    for (const auto& date : input.page_one.care)
        care.dates.push_back({date.key, date.date, of_heater(date.what), whose});
    if (warranty_until.size() == 10)
        care.dates.push_back({"warranty", warranty_until, of_heater(say.text("the warranty ends")), whose});
    const auto calendar = handover::care_calendar(care);
    return calendar ? *calendar : "";
}

/// Before the handover no page may read as if it had been, and no key of the company vouches for one.
void mark_unless_handed_over(handover::ReportInput& input, const record::JobState& state) {
    if (state.handover) return;
    input.page_one.issue = handover::Issue::Draft;
    input.page_one.paper_proof.clear();
    if (input.company_page_one) {
        input.company_page_one->issue = handover::Issue::Draft;
        input.company_page_one->paper_proof.clear();
    }
    if (!state.opened->practice) input.title = language::marked("DRAFT of the report: not handed over yet");
}

}  // namespace

Result<handover::ReportInput> Desk::report_for(const JobInHand& hand) {
    const auto view = job_view(hand.state().number);
    if (!view) return tl::unexpected(view.error());
    const auto heads = journal_.heads();
    if (!heads) return tl::unexpected(heads.error());
    const auto& company = journal_.keys().company();
    const Moment now = setup_.now();
    ReportSurroundings around{.company = setup_.company,
                              .contact = setup_.company_contact,
                              .fingerprint = company ? digest::root_fingerprint(*company) : "",
                              .fingerprint_published = setup_.fingerprint_published,
                              .date = day_of(now),
                              .written = printed_moment(now),
                              .heads = *heads,
                              .files = files_of(hand.state(), journal_),
                              .language = language_of(hand, setup_.languages),
                              .zone_minutes = now.zone_minutes};
    auto input = report_input(hand, *view, around);
    input.paper = setup_.paper;
    input.fonts = setup_.fonts;
    // The square code may end up on any kitchen table: no name and no address in it.
    if (!company) return input;
    const auto proof = handover::paper_proof(
        {.job = hand.state().number,
         .state = std::string{handover::in_words(input.page_one.state)},
         .date = around.date,
         .place = place_of(hand.state()),
         .checks = fmt::format("{} of {} conform", conforming(*view), applying(*view)),
         .hottest = input.page_one.hottest_tap,
         .head = journal_.head().hash.substr(0, 32),
         .company = around.fingerprint.substr(0, 32)},
        [&](std::string_view bytes) { return digest::sign_as_company(*company, bytes); });
    if (!proof) return tl::unexpected(proof.error());
    input.page_one.paper_proof = *proof;
    if (input.company_page_one) input.company_page_one->paper_proof = *proof;
    return input;
}

Result<std::string> Desk::draft_report(const std::string& job) {
    const auto hand = in_hand(job);
    if (!hand) return tl::unexpected(hand.error());
    auto input = report_for(*hand);
    if (!input) return tl::unexpected(input.error());
    mark_unless_handed_over(*input, hand->state());
    return handover::draw_report(*input);
}

Result<std::string> Desk::sealed_report(const std::string& job, std::optional<int> issue) {
    const auto hand = in_hand(job);
    if (!hand) return tl::unexpected(hand.error());
    std::vector<const record::HandoverState*> issues;
    for (const auto& earlier : hand->state().earlier_handovers) issues.push_back(&earlier);
    if (hand->state().handover) issues.push_back(&*hand->state().handover);
    if (issues.empty())
        return refused({"The job is not handed over yet, so there is no sealed report.", "job " + job,
                        "Sign it and hand it over first.", ProblemKind::Refused});
    const auto wanted = issue.value_or(static_cast<int>(issues.size()));
    if (wanted < 1 || wanted > static_cast<int>(issues.size()))
        return refused({fmt::format("There is no issue {} of the report.", wanted), "job " + job,
                        fmt::format("There are 1 to {}: the report, then its supplements.", issues.size()),
                        ProblemKind::WrongUse});
    const auto& report = issues[static_cast<std::size_t>(wanted) - 1]->handed.report;
    if (!report)
        return refused({"This issue of the report is not on this device.", "job " + job,
                        "Take it in from a bundle of the device that made it.", ProblemKind::Refused});
    return journal_.attachment(report->id);
}

Result<std::vector<std::string>> Desk::page_one(const std::string& job) {
    const auto hand = in_hand(job);
    if (!hand) return tl::unexpected(hand.error());
    const auto view = job_view(job);
    if (!view) return tl::unexpected(view.error());
    auto input = report_input(*hand, *view, {.company = setup_.company, .contact = setup_.company_contact,
                                             .fingerprint = "", .fingerprint_published = "",
                                             .date = day_of(setup_.now()), .written = {}, .heads = {}, .files = {},
                                             .language = language_of(*hand, setup_.languages)});
    const auto& say = input.language;
    mark_unless_handed_over(input, hand->state());
    const auto words = handover::page_one_words(input);
    std::vector<std::string> paragraphs = {words.headline};
    for (const auto& sentence : words.outcome) paragraphs.push_back(sentence);
    if (!words.unproven.empty()) paragraphs.insert(paragraphs.begin() + 2, words.unproven);
    for (const auto& sentence : words.never)
        paragraphs.push_back(fmt::format("{}: {}", handover::in_words(sentence.signal, say), sentence.words));
    for (const auto& sentence : words.hot_water) paragraphs.push_back(sentence);
    for (const auto& line : input.page_one.fitted) paragraphs.push_back(line.label + ": " + line.text);
    // All of them are read out, not only the three that fit on the page.
    for (const auto& failure : handover::one_for_each_check(input.nonconformities))
        paragraphs.push_back(failure.done.empty() ? failure.title + ": " + say.text("still open")
                                                  : failure.title + ": " + failure.done);
    for (const auto& care : input.page_one.care) paragraphs.push_back(say.date(care.date) + ": " + care.what);
    return paragraphs;
}

Result<HandedOverView> Desk::carry_out(const HandOver& intent) {
    auto hand = in_hand(intent.job);
    if (!hand) return tl::unexpected(hand.error());
    const bool follows = hand->state().handover.has_value();
    if (follows && !has_news(hand->state()))
        return refused({"The job is handed over already.", "job " + intent.job,
                        "The sealed report is kept: write it again with witnessmark job report JOB.", ProblemKind::Refused});
    if (const auto whole = is_whole(*hand); !whole) return tl::unexpected(whole.error());
    Assessment assessment{*hand};
    const auto standings = assessment.standings();
    const auto proof = record::ready_to_sign(intent.job, standings);
    if (!proof) return refused(in_the_way_of_signing(*hand, standings));
    for (const auto& check : hand->list->checks) {
        if (check.kind != checklist::Kind::Signature) continue;
        const auto& standing = assessment.of(check);
        if (standing.outcome == Outcome::Conforms || standing.outcome == Outcome::NotApplicable) continue;
        return refused({fmt::format("The record is not signed: {}.", check.title), "job " + intent.job,
                        "Sign it as crew, and have the customer sign or say why not.", ProblemKind::Refused});
    }
    const auto& company = journal_.keys().company();
    if (!company)
        return refused({"This data folder has no company key to seal a report with.", setup_.data.string(),
                        "Start with a folder that was made by the program.", ProblemKind::NotStored});
    const auto input = report_for(*hand);
    if (!input) return tl::unexpected(input.error());
    auto drawn = handover::draw_report(*input);
    if (!drawn) return tl::unexpected(drawn.error());
    HandedOverView handed;
    auto sealed = handover::seal_report(std::move(*drawn), [&](std::string_view covered) {
        return sealed_with_stamp(setup_, *company, covered, handed.unstamped);
    });
    if (!sealed) return tl::unexpected(sealed.error());
    handed.report = std::move(*sealed);
    handed.sha256 = digest::sha256_hex(handed.report);
    if (input->supplement) handed.supplement = input->supplement->number;
    handed.state = proof->handover() == record::HandoverKind::Full ? "full" : "restricted";
    const std::string& customer = hand->state().opened->customer;
    auto kept = journal_.keep(customer, handed.report, "application/pdf", "");
    if (!kept) return tl::unexpected(kept.error());

    std::vector<record::Draft> drafts;
    // Nobody is written to about a practice job.
    if (!hand->state().opened->practice && !fact_text(hand->state(), "customer.email").empty()) {
        const auto message = handover_message(
            *hand, setup_, {handed.state, handed.supplement}, handed.report,
            calendar_of(*input, house_of(hand->state()), fact_text(hand->state(), "warranty.until")),
            handover::contact_card({.company = setup_.company,
                                    .contact = setup_.company_contact,
                                    .email = setup_.mail_from,
                                    .id = "company-" + digest::root_fingerprint(*company).substr(0, 16),
                                    .written = input->written,
                                    .language = input->language}));
        auto bytes = post::write_message(message);
        if (!bytes) return tl::unexpected(bytes.error());
        auto mail = journal_.keep(customer, *bytes, "message/rfc822", "");
        if (!mail) return tl::unexpected(mail.error());
        handed.message = message.id;
        drafts.push_back({intent.job, record::MessageQueued{.message = message.id,
                                                            .purpose = follows ? "supplement" : "handover",
                                                            .to = {"", message.to.front()},
                                                            .subject = {"", message.subject},
                                                            .bytes = std::move(*mail)}});
    }
    drafts.push_back({intent.job, record::HandedOver{.outcome = proof->handover(),
                                                     .pdf_sha256 = handed.sha256,
                                                     .head_before = journal_.head().hash,
                                                     .message = handed.message,
                                                     .report = std::move(*kept),
                                                     .restricted_by = proof->restricted_by()}});
    auto written = append(*hand, std::move(drafts));
    if (!written) return tl::unexpected(written.error());
    return handed;
}

}  // namespace wm::desk
