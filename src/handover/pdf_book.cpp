#include "handover/pdf_book.hpp"

#include <fmt/format.h>
#include <hpdf.h>

#include <algorithm>
#include <array>
#include <vector>

#include "drawing/palette.hpp"
#include "drawing/typeface.hpp"
#include "handover/flow.hpp"
#include "handover/letter_parts.hpp"
#include "handover/tags.hpp"

namespace wm::handover {

using drawing::Box;
using drawing::Ink;
using drawing::Point;
using drawing::TextStyle;
using drawing::Weight;

namespace {

constexpr double points_per_mm = 72.0 / 25.4;

struct LibraryTrouble {
    HPDF_STATUS error = HPDF_OK;
    HPDF_STATUS detail = HPDF_OK;
};

void note_trouble(HPDF_STATUS error, HPDF_STATUS detail, void* user) {
    auto* trouble = static_cast<LibraryTrouble*>(user);
    if (trouble->error == HPDF_OK) *trouble = {error, detail};
}

HPDF_REAL pt(double mm) {
    return static_cast<HPDF_REAL>(mm * points_per_mm);
}

struct Faces {
    HPDF_Font regular = nullptr;
    HPDF_Font bold = nullptr;
    HPDF_Font mono = nullptr;

    [[nodiscard]] HPDF_Font of(Weight weight) const {
        switch (weight) {
            case Weight::Regular:
                return regular;
            case Weight::Bold:
                return bold;
            case Weight::Mono:
                return mono;
        }
        return regular;
    }
};

/// The parts of a whole book, and which of them are open.
struct Parts {
    bool started = false;
    TagTree tree;
    std::vector<int> open;
    std::string language;  ///< of the parts that come; empty for that of the file
};

/// What kind of mark on the paper comes next.
enum class Paint { Words, Shape, Picture };

class PageCanvas final : public drawing::Canvas, public TaggingCanvas {
public:
    PageCanvas(HPDF_Page page, const Faces& faces, double height_mm, const LibraryTrouble& trouble,
               Parts& parts, int number)
        : page_{page}, faces_{faces}, height_mm_{height_mm}, trouble_{trouble}, parts_{parts},
          number_{number} {
        if (spoiled()) return;
        HPDF_Page_SetLineCap(page_, HPDF_ROUND_END);
        HPDF_Page_SetLineJoin(page_, HPDF_ROUND_JOIN);
    }

    void stroke(std::span<const Point> points, drawing::Ends ends, drawing::Stroke with) override {
        if (points.size() < 2 || spoiled()) return;
        mark(Paint::Shape);
        set_pen(with);
        trace(points);
        if (ends == drawing::Ends::Closed) {
            HPDF_Page_ClosePathStroke(page_);
        } else {
            HPDF_Page_Stroke(page_);
        }
    }
    void fill(std::span<const Point> convex, Ink ink) override {
        if (convex.size() < 3 || spoiled()) return;
        mark(Paint::Shape);
        set_fill(ink);
        trace(convex);
        HPDF_Page_Fill(page_);
    }
    void stroke_circle(Point centre, double radius_mm, drawing::Stroke with) override {
        if (spoiled() || radius_mm <= 0.0) return;
        mark(Paint::Shape);
        set_pen(with);
        HPDF_Page_Circle(page_, pt(centre.x), up(centre.y), pt(radius_mm));
        HPDF_Page_Stroke(page_);
    }
    void fill_circle(Point centre, double radius_mm, Ink ink) override {
        if (spoiled() || radius_mm <= 0.0) return;
        mark(Paint::Shape);
        set_fill(ink);
        HPDF_Page_Circle(page_, pt(centre.x), up(centre.y), pt(radius_mm));
        HPDF_Page_Fill(page_);
    }
    void stroke_box(Box box, double radius_mm, drawing::Stroke with) override {
        if (spoiled()) return;
        mark(Paint::Shape);
        set_pen(with);
        trace_box(box, radius_mm);
        HPDF_Page_ClosePathStroke(page_);
    }
    void fill_box(Box box, double radius_mm, Ink ink) override {
        if (spoiled()) return;
        mark(Paint::Shape);
        set_fill(ink);
        trace_box(box, radius_mm);
        HPDF_Page_Fill(page_);
    }
    void text(Point at, std::string_view words, const TextStyle& style) override {
        if (spoiled() || words.empty()) return;
        double x = at.x;
        if (style.anchor == drawing::Anchor::Middle) x -= text_width(words, style) / 2.0;
        if (style.anchor == drawing::Anchor::End) x -= text_width(words, style);
        mark(Paint::Words, style);
        set_fill(style.ink);
        bring_in_parts(words, style.weight);
        HPDF_Page_BeginText(page_);
        HPDF_Page_SetFontAndSize(page_, faces_.of(style.weight), pt(style.size_mm));
        // Lines of one part follow each other for a reader that speaks: a blank parts their words.
        HPDF_Page_TextOut(page_, pt(x), up(at.y),
                          (printable(words) + (parts_.started ? " " : "")).c_str());
        HPDF_Page_EndText(page_);
    }
    [[nodiscard]] double text_width(std::string_view words, const TextStyle& style) const override {
        return drawing::line_width(words, style);
    }

    void start_tagging() override { parts_.started = true; }
    int open(TagNode part) override {
        if (!parts_.started) return -1;
        part.parent = parts_.open.empty() ? -1 : parts_.open.back();
        if (part.parent < 0) part.language = parts_.language;
        parts_.tree.push_back(std::move(part));
        parts_.open.push_back(static_cast<int>(parts_.tree.size()) - 1);
        return parts_.open.back();
    }
    void reopen(int part) override {
        if (parts_.started) parts_.open.push_back(part);
    }
    void close() override {
        if (parts_.started && !parts_.open.empty()) parts_.open.pop_back();
    }

    void speak(const std::string& language) override { parts_.language = language; }

    /// Ends the last run of the page; nothing is drawn on it afterwards.
    void end_marks() {
        if (run_of_ != nothing && !spoiled()) HPDF_Page_SetMiterLimit(page_, end_mark);
        run_of_ = nothing;
    }

    void mark_picture() {
        if (!spoiled()) mark(Paint::Picture);
    }

    [[nodiscard]] HPDF_Page page() const { return page_; }
    [[nodiscard]] HPDF_REAL up(double y_mm) const { return pt(height_mm_ - y_mm); }

private:
    [[nodiscard]] bool spoiled() const { return page_ == nullptr || trouble_.error != HPDF_OK; }

    /// The library marks for embedding whatever it is asked the width of.
    void bring_in_parts(std::string_view words, Weight weight) {
        for (std::size_t at = 0; at < words.size();) {
            const std::string_view parts = parts_of(drawing::next_code_point(words, at));
            if (!parts.empty())
                HPDF_Font_TextWidth(faces_.of(weight), reinterpret_cast<const HPDF_BYTE*>(parts.data()), static_cast<HPDF_UINT>(parts.size()));
        }
    }

    void set_pen(drawing::Stroke with) {
        const drawing::Colour c = drawing::paper_colour(with.ink);
        HPDF_Page_SetRGBStroke(page_, share(c.red), share(c.green), share(c.blue));
        HPDF_Page_SetLineWidth(page_, pt(with.width_mm));
    }
    void set_fill(Ink ink) {
        const drawing::Colour c = drawing::paper_colour(ink);
        HPDF_Page_SetRGBFill(page_, share(c.red), share(c.green), share(c.blue));
    }
    static HPDF_REAL share(std::uint8_t channel) { return static_cast<HPDF_REAL>(channel / 255.0); }

    void trace(std::span<const Point> points) {
        HPDF_Page_MoveTo(page_, pt(points.front().x), up(points.front().y));
        for (const Point& p : points.subspan(1)) HPDF_Page_LineTo(page_, pt(p.x), up(p.y));
    }

    void trace_box(Box box, double radius_mm) {
        const double r = std::min({radius_mm, box.width / 2.0, box.height / 2.0});
        if (r <= 0.0) {
            HPDF_Page_Rectangle(page_, pt(box.left), up(box.bottom()), pt(box.width),
                                pt(box.height));
            return;
        }
        const double k =
            0.4477 * r;  // distance of a Bézier handle from the corner of a quarter arc
        const double left = box.left;
        const double right = box.right();
        const double top = box.top;
        const double bottom = box.bottom();
        HPDF_Page_MoveTo(page_, pt(left + r), up(top));
        HPDF_Page_LineTo(page_, pt(right - r), up(top));
        bend({right - k, top}, {right, top + k}, {right, top + r});
        HPDF_Page_LineTo(page_, pt(right), up(bottom - r));
        bend({right, bottom - k}, {right - k, bottom}, {right - r, bottom});
        HPDF_Page_LineTo(page_, pt(left + r), up(bottom));
        bend({left + k, bottom}, {left, bottom - k}, {left, bottom - r});
        HPDF_Page_LineTo(page_, pt(left), up(top + r));
        bend({left, top + k}, {left + k, top}, {left + r, top});
    }
    void bend(Point a, Point b, Point to) {
        HPDF_Page_CurveTo(page_, pt(a.x), up(a.y), pt(b.x), up(b.y), pt(to.x), up(to.y));
    }

    static constexpr int nothing = -2;
    static constexpr int decoration = -1;

    /// The part that what comes next belongs to, or `decoration`.
    int part_of(Paint paint, const TextStyle& style) {
        if (parts_.open.empty()) return paint == Paint::Words ? part_by_style(style) : decoration;
        const int part = parts_.open.back();
        switch (parts_.tree[static_cast<std::size_t>(part)].role) {
            case Role::Figure:
                return part;
            case Role::Title:
            case Role::Heading:
            case Role::Subheading:
            case Role::Paragraph:
            case Role::HeadCell:
            case Role::Cell:
                return paint == Paint::Words ? part : decoration;
            case Role::Table:
            case Role::Row:
            case Role::Artifact:
                return decoration;
        }
        return decoration;
    }

    /// Words that no part was opened for: lines of one style that follow each other are one part.
    int part_by_style(const TextStyle& style) {
        const bool goes_on = run_of_ == own_part_ && style.weight == own_style_.weight &&
                             style.ink == own_style_.ink && style.size_mm == own_style_.size_mm;
        if (goes_on) return own_part_;
        TagNode node;
        node.language = parts_.language;
        if (style.size_mm >= letters::title) {
            node.role = Role::Title;
        } else if (style.weight == Weight::Bold && style.ink == Ink::Accent) {
            node.role = Role::Heading;
        }
        parts_.tree.push_back(std::move(node));
        own_part_ = static_cast<int>(parts_.tree.size()) - 1;
        own_style_ = style;
        return own_part_;
    }

    void mark(Paint paint, const TextStyle& style = TextStyle{}) {
        if (!parts_.started) return;
        const int part = part_of(paint, style);
        if (part == run_of_) return;
        end_marks();
        run_of_ = part;
        if (part == decoration) {
            HPDF_Page_SetMiterLimit(page_, artifact_mark);
            return;
        }
        parts_.tree[static_cast<std::size_t>(part)].pieces.push_back({number_, runs_});
        HPDF_Page_SetMiterLimit(page_, static_cast<HPDF_REAL>(first_run_mark + runs_));
        ++runs_;
    }

    HPDF_Page page_;
    const Faces& faces_;
    double height_mm_;
    const LibraryTrouble& trouble_;
    Parts& parts_;
    int number_;           ///< of the page, from 0
    int runs_ = 0;         ///< of marked content on the page so far
    int run_of_ = nothing; ///< whose run is open
    int own_part_ = -3;    ///< the last part that was made by style
    TextStyle own_style_;
};

HPDF_Date date_of(const Moment& m) {
    const int zone = m.zone_minutes < 0 ? -m.zone_minutes : m.zone_minutes;
    HPDF_Date date{};
    date.year = m.year;
    date.month = m.month;
    date.day = m.day;
    date.hour = m.hour;
    date.minutes = m.minute;
    date.seconds = m.second;
    date.ind = m.zone_minutes == 0 ? 'Z' : (m.zone_minutes > 0 ? '+' : '-');
    date.off_hour = zone / 60;
    date.off_minutes = zone % 60;
    return date;
}

}  // namespace

Box sheet_of(PaperSize paper) {
    return paper == PaperSize::A4 ? Box{0, 0, 210.0, 297.0} : Box{0, 0, 215.9, 279.4};
}

struct PdfBook::Inside {
    LibraryTrouble trouble;
    Parts parts;
    HPDF_Doc doc = nullptr;
    Faces faces;
    std::vector<std::unique_ptr<PageCanvas>> pages;

    Inside(const BookFacts& facts, const FontFiles& fonts) {
        doc = HPDF_New(note_trouble, &trouble);
        if (doc == nullptr) {
            trouble.error = HPDF_FAILD_TO_ALLOC_MEM;
            return;
        }
        HPDF_SetCompressionMode(doc, HPDF_COMP_ALL);
        HPDF_UseUTFEncodings(doc);
        HPDF_SetCurrentEncoder(doc, "UTF-8");
        faces = {face(fonts.regular), face(fonts.bold), face(fonts.mono)};
        HPDF_SetInfoAttr(doc, HPDF_INFO_TITLE, printable(facts.title).c_str());
        HPDF_SetInfoAttr(doc, HPDF_INFO_AUTHOR, printable(facts.author).c_str());
        HPDF_SetInfoAttr(doc, HPDF_INFO_SUBJECT, printable(facts.subject).c_str());
        HPDF_SetInfoAttr(doc, HPDF_INFO_CREATOR, "Witnessmark");
        HPDF_SetInfoDateAttr(doc, HPDF_INFO_CREATION_DATE, date_of(facts.written));
        HPDF_SetInfoDateAttr(doc, HPDF_INFO_MOD_DATE, date_of(facts.written));
    }
    Inside(const Inside&) = delete;
    Inside& operator=(const Inside&) = delete;
    ~Inside() {
        if (doc != nullptr) HPDF_Free(doc);
    }

    HPDF_Font face(const std::string& file) {
        if (trouble.error != HPDF_OK) return nullptr;
        const char* name = HPDF_LoadTTFontFromFile(doc, file.c_str(), HPDF_TRUE);
        return name == nullptr ? nullptr : HPDF_GetFont(doc, name, "UTF-8");
    }
};

PdfBook::PdfBook(const BookFacts& facts, const FontFiles& fonts)
    : inside_{std::make_unique<Inside>(facts, fonts)} {}
PdfBook::~PdfBook() = default;

drawing::Canvas& PdfBook::add_page(PaperSize paper) {
    const Box sheet = sheet_of(paper);
    HPDF_Page page = nullptr;
    if (inside_->trouble.error == HPDF_OK) page = HPDF_AddPage(inside_->doc);
    if (page != nullptr) {
        HPDF_Page_SetWidth(page, pt(sheet.width));
        HPDF_Page_SetHeight(page, pt(sheet.height));
    }
    inside_->pages.push_back(
        std::make_unique<PageCanvas>(page, inside_->faces, sheet.height, inside_->trouble,
                                     inside_->parts, static_cast<int>(inside_->pages.size())));
    return *inside_->pages.back();
}

int PdfBook::pages() const {
    return static_cast<int>(inside_->pages.size());
}

drawing::Canvas& PdfBook::page(int index) {
    return *inside_->pages[static_cast<std::size_t>(index)];
}

void PdfBook::place_jpeg(Box box, std::string_view jpeg) {
    if (inside_->trouble.error != HPDF_OK || inside_->pages.empty()) return;
    const auto* bytes = reinterpret_cast<const HPDF_BYTE*>(jpeg.data());
    HPDF_Image image =
        HPDF_LoadJpegImageFromMem(inside_->doc, bytes, static_cast<HPDF_UINT>(jpeg.size()));
    if (image == nullptr) return;
    PageCanvas& canvas = *inside_->pages.back();
    canvas.mark_picture();
    HPDF_Page_DrawImage(canvas.page(), image, pt(box.left), canvas.up(box.bottom()), pt(box.width),
                        pt(box.height));
}

void PdfBook::mark(const std::string& title) {
    if (inside_->trouble.error != HPDF_OK || inside_->pages.empty()) return;
    HPDF_Encoder encoder = HPDF_GetEncoder(inside_->doc, "UTF-8");
    HPDF_Outline entry =
        HPDF_CreateOutline(inside_->doc, nullptr, printable(title).c_str(), encoder);
    HPDF_Destination top = HPDF_Page_CreateDestination(inside_->pages.back()->page());
    HPDF_Destination_SetFit(top);
    HPDF_Outline_SetDestination(entry, top);
}

Result<std::string> PdfBook::finished() {
    std::string bytes;
    for (const auto& page : inside_->pages) page->end_marks();
    if (inside_->trouble.error == HPDF_OK && HPDF_SaveToStream(inside_->doc) == HPDF_OK) {
        HPDF_UINT32 left = HPDF_GetStreamSize(inside_->doc);
        bytes.resize(left);
        HPDF_ResetStream(inside_->doc);
        HPDF_ReadFromStream(inside_->doc, reinterpret_cast<HPDF_BYTE*>(bytes.data()), &left);
        bytes.resize(left);
    }
    if (inside_->trouble.error != HPDF_OK) {
        return refused({.what = fmt::format("The pages could not be written (page library, cause "
                                            "{:#x}, detail {}).",
                                            inside_->trouble.error, inside_->trouble.detail),
                        .where = "report",
                        .what_to_do = "Check that the DejaVu fonts are installed and that each "
                                      "photo opens in a viewer, then make the report again.",
                        .kind = ProblemKind::NotStored});
    }
    return with_tree(std::move(bytes), inside_->parts.tree);
}

std::string printable(std::string_view text) {
    std::string clean;
    clean.reserve(text.size());
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t start = at;
        const char32_t letter = drawing::next_code_point(text, at);
        const bool control = letter < 0x20 || (letter >= 0x7f && letter < 0xa0);
        const bool surrogate = letter >= 0xd800 && letter < 0xe000;
        if (control || surrogate || letter > 0xffff) {
            clean += "\xef\xbf\xbd";
        } else if (letter == 0xfffd) {
            clean += "\xef\xbf\xbd";
        } else {
            clean += text.substr(start, at - start);
        }
    }
    return clean;
}

}  // namespace wm::handover
