// Pieces of the papers that hang in a kitchen: head, banner, pairs of words, cautions, terms.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "handover/flow.hpp"
#include "handover/page_one_words.hpp"

namespace wm::handover {

/// What stands above the text of the first page.
struct SheetHead {
    std::string company, title, job, date;
};
void draw_letterhead(drawing::Canvas& on, const SheetHead& head, drawing::Box content);

/// The box with the mark: what this paper says, in a line and a few sentences.
struct SheetBanner {
    std::string place, headline;
    std::vector<std::string> sentences;
    measure::Outcome mark = measure::Outcome::Open;
};
void pour_banner(Flow& flow, const SheetBanner& banner);

/// Heads of the two columns, how wide the left one is, and the size of the letters.
struct PairColumns {
    std::string left, right;
    double left_mm = 46.0;
    double size_mm = letters::body;
};
void pour_pairs(Flow& flow, const PairColumns& columns, const std::vector<std::pair<std::string, std::string>>& pairs);
void pour_lines(Flow& flow, const PairColumns& columns, const std::vector<LabelledLine>& lines);

/// One paragraph.
void pour_sentences(Flow& flow, const std::vector<std::string>& sentences);
/// The signal word, and what to do.
void pour_cautions(Flow& flow, const std::vector<SafetySentence>& cautions, double size_mm = letters::body);
/// With its heading; nothing where there is none.
void pour_terms(Flow& flow, const std::vector<GlossaryTerm>& terms);

}  // namespace wm::handover
