#include "handover/reissue.hpp"

#include <fmt/format.h>

#include "handover/flow.hpp"
#include "handover/pdf_book.hpp"
#include "handover/pdf_shape.hpp"
#include "handover/tags.hpp"

namespace wm::handover {

namespace {

Result<std::string> sheet_of(const Reissue& facts) {
    PdfBook book{{"Issued again, job " + facts.job, facts.company, "", facts.written}, facts.fonts};
    Flow flow{book, PaperSize::A4, {facts.company, "job " + facts.job, facts.company}};
    start_tagging(flow.canvas());
    flow.heading("This report is issued again");
    flow.paragraph(fmt::format(
        "The pages before this one are those of the report that was sealed and handed over. On {} "
        "they were sealed again, by the same company, with this sheet behind them.",
        facts.date));
    flow.paragraph("The first report is the file with this SHA-256:");
    flow.paragraph(facts.first.substr(0, 32) + " " + facts.first.substr(32),
                   {letters::table, drawing::Weight::Mono, drawing::Ink::Text, drawing::Anchor::Start});
    flow.paragraph(
        "A seal can be stamped by an authority of time, so that it still counts when its keys are "
        "old. Where the network was missing on the day, or before a method of sealing grows weak, a "
        "report is issued again. The first stays good and is kept in the record of the job.");
    flow.paragraph(
        "To compare: sha256sum FILE.pdf on the first report, and witnessmark attest FILE.pdf on "
        "both.");
    return book.finished();
}

}  // namespace

Result<std::string> reissued(std::string_view first, const Reissue& facts) {
    const auto sheet = sheet_of(facts);
    if (!sheet) return sheet;
    const auto slot = seal_slot(first);
    const auto bare = slot ? unsealed(std::string{first}, *slot) : std::nullopt;
    const ShapeReading shape = bare ? read_shape(*bare) : ShapeReading{{"no seal"}, {}, {}, {}, {}, {}};
    if (!shape.reasons.empty() || !shape.reissue_of.empty()) {
        return refused({.what = "Only a sealed report that was not issued again can be issued again.",
                        .where = "report of job " + facts.job,
                        .what_to_do = "Take the first report out of the journal: witnessmark job report JOB.",
                        .kind = ProblemKind::Unreadable});
    }
    return with_sheet(*bare, *sheet,
                      {.job = facts.job, .head = shape.head, .issuer = facts.company, .written = facts.written},
                      facts.first);
}

}  // namespace wm::handover
