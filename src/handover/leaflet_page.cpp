#include <fmt/format.h>

#include <memory>

#include "drawing/recorded.hpp"
#include "handover/flow.hpp"
#include "handover/kitchen_sheet.hpp"
#include "handover/leaflet_words.hpp"
#include "handover/pdf_book.hpp"
#include "handover/pdf_shape.hpp"
#include "handover/report_pages.hpp"
#include "handover/tags.hpp"

namespace wm::handover {

using drawing::Anchor;
using drawing::Ink;
using drawing::TextStyle;
using drawing::Weight;

namespace {

/// Letters as large as one sheet allows, millimetres of the em.
constexpr double sizes_mm[] = {letters::body, 3.0, letters::table, 2.55, letters::small};

constexpr const char* title = "Solar water heater: the sheet that stays by it";

measure::Outcome mark_of(const Leaflet& leaflet) {
    if (leaflet.practice) return measure::Outcome::NotApplicable;
    if (!leaflet.finished) return measure::Outcome::Open;
    return leaflet.set.taps.empty() ? measure::Outcome::Deferred : measure::Outcome::Conforms;
}

TextStyle plain_at(double size_mm) { return {size_mm, Weight::Regular, Ink::Text, Anchor::Start}; }
TextStyle bold_at(double size_mm) { return {size_mm, Weight::Bold, Ink::Text, Anchor::Start}; }

Cell cell_of(const std::vector<std::string>& sentences, double size_mm) {
    Cell cell;
    for (const auto& sentence : sentences) cell.lines.push_back({"– " + sentence, plain_at(size_mm)});
    return cell;
}

/// Side by side, so that the sheet stays one.
void pour_beside(Flow& flow, const char* heading, const PairColumns& columns, const std::vector<std::string>& left, const std::vector<std::string>& right) {
    flow.heading(heading);
    const double half_mm = flow.content().width / 2.0;
    Table table{{{columns.left, half_mm}, {columns.right, half_mm}}, {}};
    table.rows.push_back({{cell_of(left, columns.size_mm), cell_of(right, columns.size_mm)}, {}, 0.0});
    flow.table(table);
}

void pour_emergency(Flow& flow, const Leaflet& leaflet, const LeafletWords& words, double size_mm) {
    flow.heading("Steam, a burst or a burnt smell?");
    constexpr double call_mm = 52.0;
    Table table{{{"In this order", flow.content().width - call_mm}, {"Call", call_mm}}, {}};
    Cell call;
    for (const auto& words_of : {leaflet.company, leaflet.contact})
        if (!words_of.empty()) call.lines.push_back({words_of, bold_at(size_mm)});
    table.rows.push_back({{cell_of(words.emergency, size_mm), std::move(call)}, {}, 0.0});
    flow.table(table);
}

void pour_settings(Flow& flow, const std::vector<LeafletSetting>& settings, double size_mm) {
    flow.heading("How is it set?");
    const auto cell = [](const std::string& words, const TextStyle& style) { return Cell{{CellLine{words, style}}, {}, {}}; };
    constexpr double what_mm = 40.0;
    constexpr double value_mm = 52.0;
    Table table{{{"What", what_mm}, {"As read on the day", value_mm}, {"What to mind", flow.content().width - what_mm - value_mm}}, {}};
    for (const auto& row : settings)
        table.rows.push_back({{cell(row.what, bold_at(size_mm)), cell(row.value, plain_at(size_mm)), cell(row.mind, plain_at(size_mm))}, {}, 0.0});
    flow.table(table);
}

void pour_calls(Flow& flow, const Leaflet& leaflet, const LeafletWords& words, double size_mm) {
    flow.heading("Whom do you call?");
    std::string coming;
    for (const auto& care : leaflet.care)
        if (care.check_id.empty()) coming += fmt::format("{}{} {}", coming.empty() ? "" : "; ", care.date, care.what);
    std::vector<LabelledLine> lines{{"Us", joined({leaflet.company, leaflet.contact.empty() ? "see our letter" : leaflet.contact})},
                                    {"Tell us", joined({"job " + leaflet.job, leaflet.place, leaflet.serials})}};
    if (!leaflet.fitted_by.empty()) lines.push_back({"Fitted by", leaflet.fitted_by});
    if (!coming.empty()) lines.push_back({"Care due", coming});
    pour_lines(flow, {"Who", "What", 28.0, size_mm}, lines);
    flow.paragraph(words.who.front() + " " + words.who.back(), plain_at(size_mm));
    if (!words.said.empty()) flow.paragraph("What you said when it was shown: “" + words.said + "”", plain_at(size_mm));
    std::string terms;
    for (const auto& term : words.terms) terms += fmt::format("{}{}: {}", terms.empty() ? "" : "; ", term.word, term.meaning);
    if (!terms.empty()) flow.paragraph("Words on this paper. " + terms + ".", plain_at(size_mm));
}

void pour_in(Book& book, const Leaflet& leaflet, double size_mm) {
    const LeafletWords words = leaflet_words(leaflet);
    Flow flow{book, leaflet.paper, {title, joined({leaflet.job, leaflet.place}), leaflet.company}};
    start_tagging(flow.canvas());
    draw_letterhead(flow.canvas(), {leaflet.company, title, leaflet.job, leaflet.date}, flow.content());
    pour_banner(flow, {leaflet.place, words.headline, words.about, mark_of(leaflet)});
    flow.heading("What must never be done?");
    pour_cautions(flow, words.cautions, size_mm);
    pour_emergency(flow, leaflet, words, size_mm);
    pour_settings(flow, words.settings, size_mm);
    pour_beside(flow, "The glass, and what you were shown", {"How it stays clean", "Shown to you", 0.0, size_mm}, words.glass, words.shown);
    pour_beside(flow, "What is normal, and when do you call us?", {"Normal", "Call us when", 0.0, size_mm}, words.normal, words.call_us);
    pour_beside(flow, "When you go away, and when it freezes", {"On holiday", "In frost", 0.0, size_mm}, words.holiday, words.frost);
    pour_calls(flow, leaflet, words, size_mm);
    flow.number_pages();
}

/// Pages that nobody keeps, to see how many there are.
class PagesCounted final : public Book {
public:
    drawing::Canvas& add_page(PaperSize) override { return *pages_.emplace_back(std::make_unique<drawing::RecordedCanvas>()); }
    [[nodiscard]] int pages() const override { return static_cast<int>(pages_.size()); }
    [[nodiscard]] drawing::Canvas& page(int index) override { return *pages_[static_cast<std::size_t>(index)]; }
    void place_jpeg(drawing::Box, std::string_view) override {}
    void mark(const std::string&) override {}

private:
    std::vector<std::unique_ptr<drawing::RecordedCanvas>> pages_;
};

double size_for_one_sheet(const Leaflet& leaflet) {
    for (const double size_mm : sizes_mm) {
        PagesCounted counted;
        pour_in(counted, leaflet, size_mm);
        if (counted.pages() <= 2) return size_mm;
    }
    return letters::small;
}

}  // namespace

void pour_leaflet(Book& book, const Leaflet& leaflet) { pour_in(book, leaflet, size_for_one_sheet(leaflet)); }

Result<std::string> draw_leaflet(const Leaflet& leaflet) {
    PdfBook book{{fmt::format("{}, job {}", title, leaflet.job), leaflet.company, leaflet.place, leaflet.written}, leaflet.fonts};
    pour_leaflet(book, leaflet);
    const auto drawn = book.finished();
    if (!drawn) return drawn;
    return without_seal(*drawn, {leaflet.job, "", leaflet.company, leaflet.written});
}

}  // namespace wm::handover
