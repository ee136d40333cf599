// Pours text, tables and figures onto as many pages as they need.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "drawing/canvas.hpp"
#include "figures/tolerance_scale.hpp"
#include "handover/book.hpp"
#include "measure/outcome.hpp"

namespace wm::handover {

/// Sizes of letters on the report, millimetres of the em.
namespace letters {
inline constexpr double title = 6.2;
inline constexpr double heading = 4.4;
inline constexpr double lead = 3.9;
inline constexpr double body = 3.2;
inline constexpr double table = 2.75;
inline constexpr double small = 2.4;
}  // namespace letters

struct CellLine {
    std::string words;  ///< wraps within its column
    drawing::TextStyle style{letters::table};
};

/// A mark sits at the top of its cell; a scale follows the lines.
struct Cell {
    std::vector<CellLine> lines;
    std::optional<measure::Outcome> mark;
    std::optional<figures::ToleranceScale> scale;
};

struct Column {
    std::string title;
    double width_mm = 20.0;
};

struct Row {
    std::vector<Cell> cells;  ///< as many as the table has columns
    /// Something drawn over the whole width below the cells, `below_mm` high.
    std::function<void(drawing::Canvas&, drawing::Box)> below;
    double below_mm = 0.0;
};

struct Table {
    std::vector<Column> columns;
    std::vector<Row> rows;
};

/// What stands at the top and bottom of each page but the first.
struct RunningHead {
    std::string left;
    std::string right;
    std::string foot;  ///< left of "page x of y"
};

/// Text flows from top to bottom; a page that is full is followed by a new one.
class Flow {
public:
    Flow(Book& book, PaperSize paper, RunningHead head);

    [[nodiscard]] drawing::Canvas& canvas();
    [[nodiscard]] drawing::Box content() const { return content_; }
    [[nodiscard]] double y() const { return y_; }
    [[nodiscard]] int page_number() const;

    void start_page();
    /// A new page unless this much room is left. More than a page holds is capped to a page.
    void keep_together(double height_mm);
    void gap(double mm) { y_ += mm; }
    /// Ends the page here if less than a part's heading and its first piece would fit.
    void begin_part(double first_piece_mm) { keep_together(first_piece_mm + 16.0); }
    /// A heading, also a bookmark. It is drawn with what follows it, on the same page: the first
    /// two lines of a paragraph, the first row of a table, a whole figure.
    /// One that nothing follows before the next of its rank is not drawn.
    void heading(const std::string& words);
    void subheading(const std::string& words);
    void paragraph(const std::string& words, const drawing::TextStyle& style = {letters::body});
    /// Draws a box of this height over the whole width, on a new page if need be. `alternative` says
    /// in words what it shows; without one its words are text like any other.
    void figure(double height_mm, const std::function<void(drawing::Canvas&, drawing::Box)>& draw,
                const std::string& alternative = {});
    /// Rows keep together unless taller than a page; the head is repeated on every page.
    void table(const Table& table);

    /// Adds running heads and page numbers to all pages; call once, at the end. The first pages that have a letterhead get no
    /// running head.
    void number_pages(int with_letterhead = 1);

private:
    struct LaidRow;
    enum class Rank { Heading, Subheading };
    struct Waiting {
        std::string words;
        Rank rank = Rank::Heading;
    };
    [[nodiscard]] double waiting_mm();
    void draw_waiting();
    [[nodiscard]] LaidRow laid(const Table& table, const Row& row);
    enum class Head { First, Repeated };
    void draw_table_head(const Table& table, Head which);
    void draw_row(const Table& table, const LaidRow& row);
    void draw_cells(const Table& table, const LaidRow& row);

    Book& book_;
    PaperSize paper_;
    RunningHead head_;
    drawing::Box content_;
    drawing::Canvas* canvas_ = nullptr;
    std::vector<Waiting> waiting_;  ///< headings that wait for what they head
    double y_ = 0.0;
};

}  // namespace wm::handover
