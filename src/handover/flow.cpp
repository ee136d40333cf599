#include "handover/flow.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "drawing/text_block.hpp"
#include "figures/outcome_mark.hpp"
#include "figures/sign.hpp"
#include "handover/tags.hpp"

namespace wm::handover {

using drawing::Anchor;
using drawing::Box;
using drawing::Canvas;
using drawing::Ink;
using drawing::TextStyle;
using drawing::Weight;

namespace {

constexpr double margin_mm = 15.0;
constexpr double head_mm = 23.0;  // from the top edge to the text
constexpr double foot_mm = 19.0;  // from the text to the bottom edge
constexpr double cell_pad_mm = 1.0;
constexpr double mark_mm = 3.4;
constexpr double scale_mm = 9.5;
constexpr double table_head_mm = 4.6;

/// How a heading is set: room before it (not at the top of a page), its lines, room after it.
struct HeadingShape {
    TextStyle style;
    double before_mm = 0.0;
    double after_mm = 0.0;
    double drawn_up = 0.0;  // of the size; the descent of the last line is given back

    [[nodiscard]] double own_mm(std::size_t lines) const {
        return style.size_mm * (1.0 - drawn_up) +
               drawing::leading_mm(style) * static_cast<double>(lines);
    }
};

HeadingShape shape_of(bool is_main) {
    if (is_main) {
        return {{letters::heading, Weight::Bold, Ink::Text, Anchor::Start}, 5.0, 2.4, 0.36};
    }
    return {{letters::lead, Weight::Bold, Ink::Text, Anchor::Start}, 2.5, 0.8, 0.5};
}

Box content_of(PaperSize paper) {
    const Box sheet = sheet_of(paper);
    return {margin_mm, head_mm, sheet.width - 2.0 * margin_mm, sheet.height - head_mm - foot_mm};
}

}  // namespace

/// One wrapped line of a cell.
struct LaidLine {
    std::string words;
    TextStyle style;
};

struct Flow::LaidRow {
    const Row* row = nullptr;
    std::vector<std::vector<LaidLine>> cells;
    double cells_mm = 0.0;

    [[nodiscard]] double height() const { return cells_mm + row->below_mm; }
};

Flow::Flow(Book& book, PaperSize paper, RunningHead head)
    : book_{book}, paper_{paper}, head_{std::move(head)}, content_{content_of(paper)} {}

Canvas& Flow::canvas() {
    if (canvas_ == nullptr) start_page();
    return *canvas_;
}

int Flow::page_number() const {
    return book_.pages();
}

void Flow::start_page() {
    canvas_ = &book_.add_page(paper_);
    y_ = content_.top;
}

void Flow::keep_together(double height_mm) {
    (void)canvas();
    const double wanted = std::min(waiting_mm() + height_mm, content_.height);
    if (y_ + wanted > content_.bottom() + 0.01) start_page();
    draw_waiting();
}

void Flow::heading(const std::string& words) {
    waiting_ = {{words, Rank::Heading}};
}

void Flow::subheading(const std::string& words) {
    if (!waiting_.empty() && waiting_.back().rank == Rank::Subheading) waiting_.pop_back();
    waiting_.push_back({words, Rank::Subheading});
}

double Flow::waiting_mm() {
    double height = 0.0;
    for (const Waiting& waiting : waiting_) {
        const HeadingShape shape = shape_of(waiting.rank == Rank::Heading);
        const auto lines = drawing::wrapped(canvas(), waiting.words, shape.style, content_.width);
        height += shape.before_mm + shape.after_mm + shape.own_mm(lines.size());
    }
    return height;
}

void Flow::draw_waiting() {
    for (const Waiting& waiting : std::exchange(waiting_, {})) {
        const bool is_main = waiting.rank == Rank::Heading;
        const HeadingShape shape = shape_of(is_main);
        if (y_ > content_.top + 1.0) gap(shape.before_mm);
        const auto lines = drawing::wrapped(canvas(), waiting.words, shape.style, content_.width);
        {
            const TagScope part{canvas(), is_main ? Role::Heading : Role::Subheading};
            drawing::draw_lines(canvas(), {content_.left, y_ + shape.style.size_mm}, lines,
                                shape.style);
        }
        gap(shape.own_mm(lines.size()));
        if (is_main) {
            book_.mark(waiting.words);
            canvas().line({content_.left, y_ - 1.6}, {content_.left + 14.0, y_ - 1.6},
                          {Ink::Accent, 0.8});
        }
        gap(shape.after_mm);
    }
}

void Flow::paragraph(const std::string& words, const TextStyle& style) {
    const auto lines = drawing::wrapped(canvas(), words, style, content_.width);
    const double leading = drawing::leading_mm(style);
    // Neither the first nor the last line stands alone, where there are enough of them.
    int part = -1;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const bool begins = i == 0 && lines.size() > 1;
        const bool ends = i + 2 == lines.size();
        keep_together(begins || ends ? 2.0 * leading : leading);
        if (i == 0) {
            const TagScope scope{canvas(), Role::Paragraph};
            part = scope.part();
            canvas().text({content_.left, y_ + style.size_mm}, lines[i], style);
        } else {
            const TagScope scope{canvas(), part};
            canvas().text({content_.left, y_ + style.size_mm}, lines[i], style);
        }
        y_ += leading;
    }
    gap(0.8);
}

void Flow::figure(double height_mm, const std::function<void(Canvas&, Box)>& draw,
                  const std::string& alternative) {
    keep_together(height_mm);
    const Box box{content_.left, y_, content_.width, height_mm};
    if (alternative.empty()) {
        draw(canvas(), box);
    } else {
        const TagScope part{canvas(), Role::Figure, alternative};
        draw(canvas(), box);
    }
    y_ += height_mm;
}

Flow::LaidRow Flow::laid(const Table& table, const Row& row) {
    LaidRow result;
    result.row = &row;
    for (std::size_t i = 0; i < table.columns.size() && i < row.cells.size(); ++i) {
        const Cell& cell = row.cells[i];
        std::vector<LaidLine> lines;
        double height = 2.0 * cell_pad_mm;
        for (const CellLine& line : cell.lines) {
            const double width = table.columns[i].width_mm - 2.0 * cell_pad_mm;
            for (std::string& piece : drawing::wrapped(canvas(), line.words, line.style, width)) {
                lines.push_back({std::move(piece), line.style});
                height += drawing::leading_mm(line.style);
            }
        }
        if (cell.mark) height = std::max(height, mark_mm + 2.0 * cell_pad_mm);
        if (cell.scale) height += scale_mm;
        result.cells.push_back(std::move(lines));
        result.cells_mm = std::max(result.cells_mm, height);
    }
    return result;
}

void Flow::draw_table_head(const Table& table, Head which) {
    // A head that is repeated on a page is there for the eye alone.
    const bool is_first = which == Head::First;
    const TagScope row{canvas(), is_first ? Role::Row : Role::Artifact};
    const TextStyle style{letters::small, Weight::Bold, Ink::Faint, Anchor::Start};
    double x = content_.left;
    for (const Column& column : table.columns) {
        const TagScope cell{canvas(), is_first ? Role::HeadCell : Role::Artifact};
        // Titles are ours and short; one that is not must not run into its neighbour.
        canvas().text(
            {x + cell_pad_mm, y_ + 3.2},
            drawing::fitted(canvas(), column.title, style, column.width_mm - 2.0 * cell_pad_mm),
            style);
        x += column.width_mm;
    }
    y_ += table_head_mm;
    canvas().line({content_.left, y_}, {content_.right(), y_}, {Ink::Text, 0.3});
}

void Flow::draw_cells(const Table& table, const LaidRow& row) {
    const TagScope part{canvas(), Role::Row};
    std::vector<int> parts(row.cells.size(), -1);
    std::vector<std::size_t> next(row.cells.size(), 0);
    std::vector<bool> scale_drawn(row.cells.size(), false);
    bool begun = false;
    for (;;) {
        const double top = y_;
        double lowest = top;
        bool all_done = true;
        double x = content_.left;
        for (std::size_t i = 0; i < row.cells.size(); ++i) {
            const TagScope cell = begun ? TagScope{canvas(), parts[i]} : TagScope{canvas(), Role::Cell};
            parts[i] = cell.part();
            double y = top + cell_pad_mm;
            if (!begun && row.row->cells[i].mark) {
                figures::draw_outcome_mark(canvas(), *row.row->cells[i].mark,
                                           {x + cell_pad_mm + mark_mm / 2.0, y + mark_mm / 2.0},
                                           mark_mm);
                lowest = std::max(lowest, y + mark_mm);
            }
            for (; next[i] < row.cells[i].size(); ++next[i]) {
                const LaidLine& line = row.cells[i][next[i]];
                if (y + drawing::leading_mm(line.style) > content_.bottom()) break;
                canvas().text({x + cell_pad_mm, y + line.style.size_mm}, line.words, line.style);
                y += drawing::leading_mm(line.style);
            }
            const bool wants_scale = row.row->cells[i].scale && !scale_drawn[i];
            if (next[i] < row.cells[i].size() || (wants_scale && y + scale_mm > content_.bottom())) {
                all_done = false;
            } else if (wants_scale) {
                scale_drawn[i] = true;
                // Everything on it stands in words in the row.
                const TagScope seen{canvas(), Role::Artifact};
                figures::draw_tolerance_scale(canvas(), {x, y, table.columns[i].width_mm, scale_mm},
                                              *row.row->cells[i].scale);
                y += scale_mm;
            }
            lowest = std::max(lowest, y);
            x += table.columns[i].width_mm;
        }
        y_ = lowest + cell_pad_mm;
        begun = true;
        if (all_done) break;
        start_page();
        draw_table_head(table, Head::Repeated);
    }
}

void Flow::draw_row(const Table& table, const LaidRow& row) {
    draw_cells(table, row);
    if (row.row->below && row.row->below_mm > 0.0) {
        if (y_ + row.row->below_mm > content_.bottom()) {
            start_page();
            draw_table_head(table, Head::Repeated);
        }
        const TagScope part{canvas(), Role::Row};
        const TagScope cell{canvas(), Role::Cell, {}, static_cast<int>(table.columns.size())};
        const TagScope chart{canvas(), Role::Figure, "Chart of the readings that stand in the row above."};
        row.row->below(canvas(), {content_.left, y_, content_.width, row.row->below_mm});
        y_ += row.row->below_mm;
    }
    canvas().line({content_.left, y_}, {content_.right(), y_}, {Ink::Hairline, 0.15});
}

void Flow::table(const Table& table) {
    if (table.rows.empty()) return;
    std::vector<LaidRow> rows;
    for (const Row& row : table.rows) rows.push_back(laid(table, row));
    const auto fits_a_page = [&](double height) { return height + table_head_mm <= content_.height; };
    int table_part = -1;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const bool first = i == 0;
        double wanted = fits_a_page(rows[i].height()) ? rows[i].height() : 20.0;
        // Neither the first nor the last row stands alone on a page, unless the two fill a third.
        const bool is_edge = rows.size() > 1 && (first || i + 2 == rows.size());
        const double both = is_edge ? rows[i].height() + rows[i + 1].height() : 0.0;
        if (is_edge && both < content_.height / 3.0) wanted = both;
        const int page = page_number();
        keep_together(wanted + (first ? table_head_mm : 0.0));
        const TagScope part = first ? TagScope{canvas(), Role::Table} : TagScope{canvas(), table_part};
        table_part = part.part();
        if (first || page_number() != page) draw_table_head(table, first ? Head::First : Head::Repeated);
        draw_row(table, rows[i]);
    }
    gap(1.5);
}

void Flow::number_pages(int with_letterhead) {
    const Box sheet = sheet_of(paper_);
    const TextStyle left{letters::small, Weight::Regular, Ink::Faint, Anchor::Start};
    const TextStyle right{letters::small, Weight::Regular, Ink::Faint, Anchor::End};
    const double half = content_.width / 2.0 - 8.0;
    for (int i = 0; i < book_.pages(); ++i) {
        Canvas& page = book_.page(i);
        const TagScope seen{page, Role::Artifact};
        const double foot = sheet.height - 10.0;
        page.text({content_.left, foot},
                  drawing::fitted(page, head_.foot, left, content_.width - 30.0), left);
        page.text({content_.right(), foot}, fmt::format("page {} of {}", i + 1, book_.pages()),
                  right);
        if (i < with_letterhead) continue;
        figures::draw_sign(page, {content_.left + 2.2, 13.2}, 3.4);
        page.text({content_.left + 6.5, 14.0}, drawing::fitted(page, head_.left, left, half), left);
        page.text({content_.right(), 14.0}, drawing::fitted(page, head_.right, right, half), right);
        page.line({content_.left, 17.0}, {content_.right(), 17.0}, {Ink::Hairline, 0.2});
    }
}

}  // namespace wm::handover
