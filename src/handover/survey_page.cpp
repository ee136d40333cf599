#include <fmt/format.h>

#include <algorithm>

#include "drawing/text_block.hpp"
#include "figures/outcome_mark.hpp"
#include "figures/sign.hpp"
#include "handover/flow.hpp"
#include "handover/pdf_shape.hpp"
#include "handover/report_pages.hpp"
#include "handover/survey_words.hpp"
#include "handover/tags.hpp"

namespace wm::handover {

using drawing::Anchor;
using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::TextStyle;
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

/// Company, job and date above the text of the first page.
void draw_letterhead(Canvas& on, const SurveyReport& report, Box content) {
    figures::draw_sign(on, {content.left + 4.0, 14.2}, 6.6);
    const TextStyle company{4.2, Weight::Bold, Ink::Text, Anchor::Start};
    const TextStyle small{3.0, Weight::Regular, Ink::Faint, Anchor::Start};
    TextStyle right = small;
    right.anchor = Anchor::End;
    const double wide = content.width - 62.0;
    on.text({content.left + 10.5, 13.6}, drawing::fitted(on, report.company, company, wide), company);
    on.text({content.left + 10.5, 18.2}, drawing::fitted(on, title, small, wide), small);
    on.text({content.right(), 13.6}, drawing::fitted(on, "job " + report.job, right, 48.0), right);
    on.text({content.right(), 18.2}, drawing::fitted(on, report.date, right, 48.0), right);
}

void pour_banner(Flow& flow, const SurveyReport& report, const SurveyWords& words) {
    const TextStyle head{7.2, Weight::Bold, Ink::Text, Anchor::Start};
    const TextStyle body{letters::lead, Weight::Regular, Ink::Text, Anchor::Start};
    const TextStyle place{3.3, Weight::Regular, Ink::Faint, Anchor::Start};
    std::string prose;
    for (const auto& sentence : words.verdict) prose += (prose.empty() ? "" : "\n") + sentence;
    const double width = flow.content().width - 26.0;
    const auto lines = drawing::wrapped(flow.canvas(), prose, body, width);
    const double height = 22.5 + drawing::leading_mm(body) * static_cast<double>(lines.size());
    flow.figure(height, [&](Canvas& on, Box box) {
        on.fill_box(box, 2.0, Ink::Tint);
        on.stroke_box(box, 2.0, {figures::ink_of(mark_of(report)), 0.6});
        figures::draw_outcome_mark(on, mark_of(report), {box.left + 11.5, box.top + height / 2.0}, 13.0);
        const double left = box.left + 22.0;
        on.text({left, box.top + 6.0}, drawing::fitted(on, report.place, place, width), place);
        on.text({left, box.top + 14.6}, drawing::fitted(on, words.headline, head, width), head);
        drawing::draw_lines(on, {left, box.top + 21.2}, lines, body);
    });
    flow.gap(1.0);
}

CellLine line_of(std::string words, Weight weight) {
    return {std::move(words), {letters::body, weight, Ink::Text, Anchor::Start}};
}

void pour_pairs(Flow& flow, const char* left, const char* right, double left_mm,
                const std::vector<std::pair<std::string, std::string>>& pairs) {
    Table table{{{left, left_mm}, {right, flow.content().width - left_mm}}, {}};
    for (const auto& [one, other] : pairs)
        table.rows.push_back({{{{line_of(one, Weight::Bold)}, {}, {}}, {{line_of(other, Weight::Regular)}, {}, {}}}, {}, 0.0});
    flow.table(table);
}

void pour_findings(Flow& flow, const char* heading, const char* cure, const std::vector<FoundAndCure>& findings) {
    if (findings.empty()) return;
    flow.heading(heading);
    std::vector<std::pair<std::string, std::string>> pairs;
    for (const auto& item : findings) pairs.emplace_back(item.found, item.cure);
    pour_pairs(flow, "What we found", cure, flow.content().width / 2.0, pairs);
}

void pour_sentences(Flow& flow, const std::vector<std::string>& sentences) {
    std::string words;
    for (const auto& sentence : sentences) words += (words.empty() ? "" : " ") + sentence;
    flow.paragraph(words);
}

void pour_lines(Flow& flow, const char* left, const char* right, const std::vector<LabelledLine>& lines) {
    std::vector<std::pair<std::string, std::string>> pairs;
    for (const auto& line : lines) pairs.emplace_back(line.label, line.text);
    pour_pairs(flow, left, right, 46.0, pairs);
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
    if (!report.expectation.year.empty()) pour_lines(flow, "In a year", "Estimate", report.expectation.year);
    auto lines = report.plane;
    lines.insert(lines.end(), report.expectation.assumptions.begin(), report.expectation.assumptions.end());
    for (const auto& sentence : report.expectation.left_out) lines.push_back({"Left out", sentence});
    if (lines.empty()) return;
    flow.subheading("What the figures stand on");
    pour_lines(flow, "Of", "Assumed", lines);
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
    draw_letterhead(flow.canvas(), report, flow.content());
    pour_banner(flow, report, words);
    pour_findings(flow, "What stands in the way of a date?", "What would cure it", words.blocking);
    pour_findings(flow, "What must be kept to?", "What we do about it", words.conditions);
    flow.heading("What happens next?");
    for (const auto& sentence : words.next) flow.paragraph("– " + sentence);
    flow.heading("What must you mind until then?");
    std::vector<std::pair<std::string, std::string>> cautions;
    for (const auto& caution : words.cautions) cautions.emplace_back(std::string{in_words(caution.signal)}, caution.words);
    pour_pairs(flow, "How bad", "What to do", 28.0, cautions);
    pour_sun(flow, report, words);
    if (!words.terms.empty()) {
        flow.heading("Words on this paper");
        std::vector<LabelledLine> terms;
        for (const auto& term : words.terms) terms.push_back({term.word, term.meaning});
        pour_lines(flow, "Word", "What it means", terms);
    }
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
