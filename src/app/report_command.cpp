// `handover` and `attest`.
#include <fmt/format.h>

#include "app/commands.hpp"
#include "app/json_views.hpp"
#include "desk/attest.hpp"
#include "desk/reissue.hpp"
#include "digest/company.hpp"
#include "exchange/bundle.hpp"
#include "handover/seal.hpp"
#include "handover/square_code.hpp"

namespace wm::app {

namespace {

Json told(const desk::AttestView& view) {
    return {{"genuine", view.genuine}, {"reasons", view.reasons}, {"sealer_known", view.sealer_known}, {"signer", view.signer},
            {"fingerprint", view.fingerprint}, {"signed_at", view.signed_at}, {"job", view.job}, {"head", view.head},
            {"in_journal", view.in_journal ? Json(*view.in_journal) : Json(nullptr)},
            {"stamped_at", view.stamped_at.empty() ? Json(nullptr) : Json(view.stamped_at)},
            {"stamped_by", view.stamped_by.empty() ? Json(nullptr) : Json(view.stamped_by)},
            {"reissue_of", view.reissue_of.empty() ? Json(nullptr) : Json(view.reissue_of)}};
}

std::string not_stamped(const std::string& why, const std::string& job) {
    return fmt::format("Sealed without a time stamp: {} Later: witnessmark reissue {} --out FILE.pdf.\n", why, job);
}

std::string reasons_text(const std::vector<std::string>& reasons) {
    std::string text;
    for (const auto& reason : reasons) text += "  " + reason + "\n";
    return text;
}

// The journal of --data if there is one; attesting needs none, and nothing but the journal: no checklist is read.
std::optional<store::Journal> journal_if_any(const World& world) {
    std::error_code problem;
    if (!std::filesystem::exists(world.data / "journal.db", problem)) return std::nullopt;
    auto journal = store::Journal::open_to_read(
        {.folder = world.data, .random = world.random, .wall_ms = world.now().wall_ms, .company = "", .vfs = ""});
    if (!journal) return std::nullopt;
    return std::move(*journal);
}

Output attest_pdf(const Arguments& arguments, const World& world, const std::string& bytes) {
    const auto journal = journal_if_any(world);
    const auto view = desk::attest_file(bytes, arguments.value("expect"), journal ? &*journal : nullptr);
    Output output;
    output.code = view.genuine ? 0 : 1;
    if (form_of(arguments) == Form::Json) {
        output.data = document(told(view));
        return output;
    }
    if (!view.genuine) output.data = "NOT genuine. Do not rely on this file.\n";
    else if (view.sealer_known) output.data = "Genuine: nothing in this report was altered since it was sealed.\n";
    else output.data = "Unaltered since it was sealed, but nobody here knows the sealer. A forger can seal too.\n";
    output.data += reasons_text(view.reasons);
    if (!view.signer.empty()) output.data += fmt::format("  Sealed by {}, fingerprint {}\n", view.signer, view.fingerprint);
    // What an altered file says of itself is not read.
    if (!view.job.empty()) output.data += fmt::format("  at {}, job {}, head {}\n", view.signed_at, view.job, view.head);
    if (!view.stamped_at.empty())
        output.data += fmt::format("  Stamped at {} by {}\n", view.stamped_at, view.stamped_by);
    if (!view.reissue_of.empty())
        output.data += fmt::format("  Issued again in place of the report with SHA-256 {}\n", view.reissue_of);
    if (view.in_journal) output.data += *view.in_journal ? "  In the journal: yes\n" : "  In the journal: no\n";
    if (arguments.has("explain"))
        output.data +=
            "\nBy hand, with stock tools:\n"
            "  pdfsig FILE.pdf            says whether the seal is valid and covers the whole file\n"
            "  sha256sum FILE.pdf         must equal the hash the company keeps in its journal\n"
            "  The fingerprint above must equal the one the company publishes.\n";
    return output;
}

Output attest_bundle_file(const Arguments& arguments, const std::string& bytes, const std::string& name) {
    const Form form = form_of(arguments);
    const auto report = exchange::attest_bundle(bytes, name);
    if (!report) return told_as(report.error(), form);
    Output output;
    output.code = report->genuine ? 0 : 1;
    if (form == Form::Json) {
        Json heads = Json::array();
        for (const auto& head : report->heads)
            heads.push_back({{"device", head.device}, {"entries", head.seq}, {"head", head.hash}});
        output.data = document({{"genuine", report->genuine}, {"reasons", report->reasons}, {"signer", report->maker},
                                {"signed_at", nullptr}, {"job", nullptr}, {"head", nullptr}, {"in_journal", nullptr},
                                {"entries", report->entries}, {"devices", heads}});
        return output;
    }
    output.data = report->genuine ? "Genuine: the bundle is as its device wrote it.\n" : "NOT genuine.\n";
    output.data += reasons_text(report->reasons);
    return output;
}

Output attest_journal(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    auto desk = open_desk(world, desk::Access::Read);
    if (!desk) return told_as(desk.error(), form);
    if (arguments.has("explain")) {
        const auto by_hand = desk::chain_by_hand(*desk);
        if (!by_hand) return told_as(by_hand.error(), form);
        const std::filesystem::path folder = arguments.has("out") ? std::filesystem::path{arguments.value("out")}
                                                                  : world.data / "by-hand";
        for (const auto& [name, bytes] : {std::pair{"chain.txt", by_hand->chain}, std::pair{"device.pem", by_hand->key_pem},
                                          std::pair{"head.txt", by_hand->claim}, std::pair{"head.sig", by_hand->signature}})
            if (const auto done = write_file(folder / name, bytes); !done) return told_as(done.error(), form);
        return {by_hand->steps, fmt::format("The files of these steps lie in {}.\n", folder.string()), 0};
    }
    const auto view = desk::attest_journal(*desk);
    if (!view) return told_as(view.error(), form);
    Output output;
    output.code = view->genuine ? 0 : 1;
    if (form == Form::Json) {
        Json devices = Json::array();
        for (const auto& device : view->devices)
            devices.push_back({{"device", device.device}, {"entries", device.entries}, {"head", device.head}});
        output.data = document({{"genuine", view->genuine}, {"entries", view->entries}, {"times_by_hand", view->by_hand}, {"devices", devices},
                                {"reasons", view->reasons}});
        return output;
    }
    output.data = view->genuine ? fmt::format("Genuine: {} entries, each chained to the one before.\n", view->entries)
                                : "NOT genuine.\n";
    for (const auto& device : view->devices)
        output.data += fmt::format("  device {}: {} entries, head {}\n", device.device, device.entries, device.head);
    if (view->by_hand > 0) output.data += fmt::format("{} entries carry a time that was given by hand, not read from a clock.\n", view->by_hand);
    output.data += reasons_text(view->reasons);
    return output;
}

// What stands behind --expect beside a square code: a fingerprint, or a file that brings the certificate with it.
struct Vouching {
    std::string fingerprint;
    std::vector<std::string> certificates;
};

Result<Vouching> vouching_for(const std::string& expect) {
    std::error_code problem;
    if (expect.empty() || !std::filesystem::is_regular_file(expect, problem)) return Vouching{expect, {}};
    const auto bytes = read_file(expect);
    if (!bytes) return tl::unexpected(bytes.error());
    if (!bytes->starts_with("%PDF")) {
        const auto der = digest::certificate_der(*bytes);
        if (der) return Vouching{"", {*der}};
        return refused({"This file is neither a sealed report nor a certificate.", expect,
                        "Give the PDF that came by mail, the company's certificate, or its fingerprint.",
                        ProblemKind::Unreadable});
    }
    const auto report = handover::attest_report(*bytes);
    if (!report.genuine)
        return refused({"This report is not genuine itself, so it vouches for nothing.", expect,
                        "Ask the company for the report again.", ProblemKind::Refused});
    return Vouching{"", {report.root_certificate}};
}

Output attest_paper(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto photo = read_file(arguments.value("qr"));
    if (!photo) return told_as(photo.error(), form);
    const auto text = handover::read_square_code(*photo, arguments.value("qr"));
    if (!text) return told_as(text.error(), form);
    const auto vouching = vouching_for(arguments.value("expect"));
    if (!vouching) return told_as(vouching.error(), form);
    const auto journal = journal_if_any(world);
    const auto paper =
        desk::attest_paper(*text, vouching->fingerprint, vouching->certificates, journal ? &*journal : nullptr);
    if (!paper) return told_as(paper.error(), form);
    Output output;
    output.code = paper->genuine ? 0 : 1;
    const auto& facts = paper->facts;
    if (form == Form::Json) {
        output.data = document({{"genuine", paper->genuine}, {"reasons", paper->reasons}, {"signer", paper->fingerprint},
                                {"signed_at", facts.date}, {"job", facts.job}, {"head", facts.head},
                                {"in_journal", paper->in_journal ? Json(*paper->in_journal) : Json(nullptr)},
                                {"state", facts.state}, {"checks", facts.checks}, {"hottest", facts.hottest},
                                {"company", facts.company}});
        return output;
    }
    output.data = paper->genuine ? "The company signed this code. The paper must say the same:\n"
                                 : "NOT genuine, or nobody vouches for it. Do not rely on this paper.\n";
    output.data += reasons_text(paper->reasons);
    output.data += fmt::format("  job {}\n  state {}\n  date {}\n  place {}\n  checks {}\n  hottest tap {}\n  head {}…\n  company {}…\n",
                               facts.job, facts.state, facts.date, facts.place, facts.checks, facts.hottest, facts.head,
                               facts.company);
    if (paper->in_journal) output.data += *paper->in_journal ? "  In the journal: yes\n" : "  In the journal: no\n";
    return output;
}

}  // namespace

Output run_handover(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(1, "The job number");
    if (!job) return told_as(job.error(), form);
    auto desk = open_desk(world, desk::Access::Write, arguments.value("stamp"));
    if (!desk) return told_as(desk.error(), form);
    const auto handed = desk->carry_out(desk::HandOver{*job});
    if (!handed) return told_as(handed.error(), form);
    const std::filesystem::path file =
        arguments.has("out") ? std::filesystem::path{arguments.value("out")}
                             : world.data / "reports" /
                                   (handed->supplement > 0 ? fmt::format("{}-supplement-{}.pdf", *job, handed->supplement)
                                                           : *job + ".pdf");
    if (const auto done = write_file(file, handed->report); !done) {
        Problem problem = done.error();
        problem.what_to_do += " The sealed report is safe in the journal.";
        return told_as(problem, form);
    }
    if (form == Form::Json)
        return {document({{"report", file.string()}, {"state", handed->state},
                          {"message", handed->message.empty() ? Json(nullptr) : Json(handed->message)},
                          {"sha256", handed->sha256},
                          {"supplement", handed->supplement > 0 ? Json(handed->supplement) : Json(nullptr)}}),
                "", 0};
    Output output;
    output.data = fmt::format("{}\n", file.string());
    const std::string what = handed->supplement > 0
                                 ? fmt::format("Supplement {}: the system is now handed over", handed->supplement)
                                 : std::string{"Handed over"};
    output.talk = fmt::format("{}: {}. SHA-256 {}\n{}\n", what, handed->state, handed->sha256,
                              handed->message.empty() ? "The customer has no mail address: print the report or save it."
                                                      : "The message to the customer waits in the outbox.");
    if (!handed->unstamped.empty()) output.talk += not_stamped(handed->unstamped, *job);
    return output;
}

Output run_reissue(const Arguments& arguments, const World& world) {
    const Form form = form_of(arguments);
    const auto job = arguments.word(1, "The job number");
    if (!job) return told_as(job.error(), form);
    if (!arguments.has("out"))
        return told_as({"Where shall the report be written?", "reissue " + *job, "Name a file: --out FILE.pdf.",
                        ProblemKind::WrongUse},
                       form);
    auto desk = open_desk(world, desk::Access::Read, arguments.value("stamp"));
    if (!desk) return told_as(desk.error(), form);
    const auto again = desk::reissue_report(*desk, *job);
    if (!again) return told_as(again.error(), form);
    const std::string file = arguments.value("out");
    if (const auto done = write_file(file, again->report); !done) return told_as(done.error(), form);
    if (form == Form::Json)
        return {document({{"report", file}, {"sha256", again->sha256}, {"first", again->first},
                          {"unstamped", again->unstamped.empty() ? Json(nullptr) : Json(again->unstamped)}}),
                "", 0};
    Output output;
    output.data = file + "\n";
    output.talk = fmt::format("Issued again in place of the report with SHA-256 {}.\n", again->first);
    if (!again->unstamped.empty()) output.talk += not_stamped(again->unstamped, *job);
    return output;
}

Output run_attest(const Arguments& arguments, const World& world) {
    if (arguments.has("journal")) return attest_journal(arguments, world);
    if (arguments.has("qr")) return attest_paper(arguments, world);
    const Form form = form_of(arguments);
    const auto name = arguments.word(1, "The file");
    if (!name) return told_as(name.error(), form);
    const auto bytes = read_file(*name);
    if (!bytes) return told_as(bytes.error(), form);
    // A tar has its mark at byte 257; everything else is judged as a report and refused if it is none.
    if (bytes->size() > 262 && bytes->compare(257, 5, "ustar") == 0) return attest_bundle_file(arguments, *bytes, *name);
    return attest_pdf(arguments, world, *bytes);
}

}  // namespace wm::app
