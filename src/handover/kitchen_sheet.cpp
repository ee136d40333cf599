#include "handover/kitchen_sheet.hpp"

#include "drawing/text_block.hpp"
#include "figures/outcome_mark.hpp"
#include "figures/sign.hpp"

namespace wm::handover {

using drawing::Anchor;
using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::TextStyle;
using drawing::Weight;

namespace {

CellLine line_of(std::string words, Weight weight, double size_mm) {
    return {std::move(words), {size_mm, weight, Ink::Text, Anchor::Start}};
}

}  // namespace

void draw_letterhead(Canvas& on, const SheetHead& head, Box content) {
    figures::draw_sign(on, {content.left + 4.0, 14.2}, 6.6);
    const TextStyle company{4.2, Weight::Bold, Ink::Text, Anchor::Start};
    const TextStyle small{3.0, Weight::Regular, Ink::Faint, Anchor::Start};
    TextStyle right = small;
    right.anchor = Anchor::End;
    const double wide = content.width - 62.0;
    on.text({content.left + 10.5, 13.6}, drawing::fitted(on, head.company, company, wide), company);
    on.text({content.left + 10.5, 18.2}, drawing::fitted(on, head.title, small, wide), small);
    on.text({content.right(), 13.6}, drawing::fitted(on, "job " + head.job, right, 48.0), right);
    on.text({content.right(), 18.2}, drawing::fitted(on, head.date, right, 48.0), right);
}

void pour_banner(Flow& flow, const SheetBanner& banner) {
    const TextStyle head{7.2, Weight::Bold, Ink::Text, Anchor::Start};
    const TextStyle body{letters::lead, Weight::Regular, Ink::Text, Anchor::Start};
    const TextStyle place{3.3, Weight::Regular, Ink::Faint, Anchor::Start};
    std::string prose;
    for (const auto& sentence : banner.sentences) prose += (prose.empty() ? "" : "\n") + sentence;
    const double width = flow.content().width - 26.0;
    const auto lines = drawing::wrapped(flow.canvas(), prose, body, width);
    const double height = 22.5 + drawing::leading_mm(body) * static_cast<double>(lines.size());
    flow.figure(height, [&](Canvas& on, Box box) {
        on.fill_box(box, 2.0, Ink::Tint);
        on.stroke_box(box, 2.0, {figures::ink_of(banner.mark), 0.6});
        figures::draw_outcome_mark(on, banner.mark, {box.left + 11.5, box.top + height / 2.0}, 13.0);
        const double left = box.left + 22.0;
        on.text({left, box.top + 6.0}, drawing::fitted(on, banner.place, place, width), place);
        on.text({left, box.top + 14.6}, drawing::fitted(on, banner.headline, head, width), head);
        drawing::draw_lines(on, {left, box.top + 21.2}, lines, body);
    });
    flow.gap(1.0);
}

void pour_pairs(Flow& flow, const PairColumns& columns, const std::vector<std::pair<std::string, std::string>>& pairs) {
    Table table{{{columns.left, columns.left_mm}, {columns.right, flow.content().width - columns.left_mm}}, {}};
    for (const auto& [one, other] : pairs)
        table.rows.push_back({{{{line_of(one, Weight::Bold, columns.size_mm)}, {}, {}},
                               {{line_of(other, Weight::Regular, columns.size_mm)}, {}, {}}},
                              {}, 0.0});
    flow.table(table);
}

void pour_lines(Flow& flow, const PairColumns& columns, const std::vector<LabelledLine>& lines) {
    std::vector<std::pair<std::string, std::string>> pairs;
    for (const auto& line : lines) pairs.emplace_back(line.label, line.text);
    pour_pairs(flow, columns, pairs);
}

void pour_sentences(Flow& flow, const std::vector<std::string>& sentences) {
    std::string words;
    for (const auto& sentence : sentences) words += (words.empty() ? "" : " ") + sentence;
    flow.paragraph(words);
}

void pour_cautions(Flow& flow, const std::vector<SafetySentence>& cautions, double size_mm) {
    std::vector<std::pair<std::string, std::string>> pairs;
    for (const auto& caution : cautions) pairs.emplace_back(std::string{in_words(caution.signal)}, caution.words);
    pour_pairs(flow, {"How bad", "What to do", 28.0, size_mm}, pairs);
}

void pour_terms(Flow& flow, const std::vector<GlossaryTerm>& terms) {
    if (terms.empty()) return;
    flow.heading("Words on this paper");
    std::vector<LabelledLine> lines;
    for (const auto& term : terms) lines.push_back({term.word, term.meaning});
    pour_lines(flow, {"Word", "What it means"}, lines);
}

}  // namespace wm::handover
