#include <fmt/format.h>

#include "handover/flow.hpp"
#include "handover/kitchen_sheet.hpp"
#include "handover/pdf_shape.hpp"
#include "handover/report_pages.hpp"
#include "handover/survey_words.hpp"
#include "handover/tags.hpp"

namespace wm::handover {

using drawing::Anchor;
using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::Weight;

namespace {

constexpr const char* title = "Solar water heater: what the survey found";
constexpr double chart_mm = 30.0;

measure::Outcome mark_of(const SurveyReport& report) {
    if (report.practice) return measure::Outcome::NotApplicable;
    if (report.surveyor.empty()) return measure::Outcome::Open;
    switch (report.suited) {
        case Suited::Yes: return measure::Outcome::Conforms;
        case Suited::WithConditions: return measure::Outcome::Deferred;
        case Suited::No: return measure::Outcome::DoesNotConform;
    }
    return measure::Outcome::Open;
}

void pour_findings(Flow& flow, const char* heading, const char* cure, const std::vector<FoundAndCure>& findings) {
    if (findings.empty()) return;
    flow.heading(heading);
    std::vector<std::pair<std::string, std::string>> pairs;
    for (const auto& item : findings) pairs.emplace_back(item.found, item.cure);
    pour_pairs(flow, {"What we found", cure, flow.content().width / 2.0}, pairs);
}

void pour_sun(Flow& flow, const SurveyReport& report, const SurveyWords& words) {
    flow.heading("What may the sun bring?");
    pour_sentences(flow, words.sun);
    pour_sentences(flow, words.shade);
    if (!report.shade.empty())
        flow.figure(chart_mm,
                    [&](Canvas& on, Box box) { figures::draw_shade_chart(on, box, {report.shade, letters::small}); },
                    "Chart: for each month the share of the direct sun that hills, trees and houses take.");
    flow.gap(1.0);
    if (!report.expectation.year.empty()) pour_lines(flow, {"In a year", "Estimate"}, report.expectation.year);
    auto lines = report.plane;
    lines.insert(lines.end(), report.expectation.assumptions.begin(), report.expectation.assumptions.end());
    for (const auto& sentence : report.expectation.left_out) lines.push_back({"Left out", sentence});
    if (lines.empty()) return;
    flow.subheading("What the figures stand on");
    pour_lines(flow, {"Of", "Assumed"}, lines);
}

/// Four digits to a group, so that two people can compare them on the telephone.
std::string grouped(const std::string& digits) {
    std::string text;
    for (std::size_t i = 0; i < digits.size(); ++i) {
        if (i > 0 && i % 4 == 0) text += ' ';
        text += digits[i];
    }
    return text;
}

}  // namespace

void pour_survey(Book& book, const SurveyReport& report) {
    const SurveyWords words = survey_words(report);
    Flow flow{book, report.paper, {title, joined({report.job, report.place}), report.company}};
    start_tagging(flow.canvas());
    draw_letterhead(flow.canvas(), {report.company, title, report.job, report.date}, flow.content());
    pour_banner(flow, {report.place, words.headline, words.verdict, mark_of(report)});
    pour_findings(flow, "What stands in the way of a date?", "What would cure it", words.blocking);
    pour_findings(flow, "What must be kept to?", "What we do about it", words.conditions);
    flow.heading("What happens next?");
    for (const auto& sentence : words.next) flow.paragraph("– " + sentence);
    flow.heading("What must you mind until then?");
    pour_cautions(flow, words.cautions);
    pour_sun(flow, report, words);
    pour_terms(flow, words.terms);
    flow.heading("Whom do you call?");
    flow.paragraph(joined({report.company, report.contact}));
    if (!report.surveyor.empty()) flow.paragraph("The house was looked at by " + report.surveyor + ".");
    if (!words.checking.empty()) {
        flow.heading("Is this paper genuine?");
        pour_sentences(flow, words.checking);
        flow.paragraph(grouped(report.fingerprint), {2.55, Weight::Mono, Ink::Text, Anchor::Start});
    }
    flow.number_pages();
}

Result<std::string> draw_survey(const SurveyReport& report) {
    PdfBook book{{fmt::format("{}, job {}", title, report.job), report.company, report.place, report.written}, report.fonts};
    pour_survey(book, report);
    auto drawn = book.finished();
    if (!drawn) return drawn;
    return with_empty_seal(*drawn, {report.job, report.head, report.company, report.written});
}

}  // namespace wm::handover
