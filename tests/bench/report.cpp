// The report of a job, against a bare page library that draws the very same; its drawing, written down for other engines.
#include <hpdf.h>

#include <fstream>
#include <iostream>
#include <list>
#include <nlohmann/json.hpp>

#include "app/world.hpp"
#include "bench/benches.hpp"
#include "bench/many_jobs.hpp"
#include "bench/timing.hpp"
#include "desk/report_of.hpp"
#include "digest/seal.hpp"
#include "drawing/palette.hpp"
#include "drawing/recorded.hpp"
#include "handover/pdf_book.hpp"
#include "handover/report.hpp"
#include "handover/report_pages.hpp"
#include "handover/seal.hpp"
#include "record/codec.hpp"

namespace wm::bench {

namespace {

namespace fs = std::filesystem;
using drawing::Box;

struct Picture {
    int page = 0;
    Box box;
    std::string jpeg;
};

/// Remembers every page and picture.
class RecordedBook final : public handover::Book {
public:
    drawing::Canvas& add_page(handover::PaperSize) override { return sheets.emplace_back(); }
    [[nodiscard]] int pages() const override { return static_cast<int>(sheets.size()); }
    [[nodiscard]] drawing::Canvas& page(int index) override { return *std::next(sheets.begin(), index); }
    void place_jpeg(Box box, std::string_view jpeg) override { pictures.push_back({pages() - 1, box, std::string{jpeg}}); }
    void mark(const std::string&) override {}

    std::list<drawing::RecordedCanvas> sheets;
    std::vector<Picture> pictures;
};

HPDF_REAL pt(double mm) { return static_cast<HPDF_REAL>(mm * 72.0 / 25.4); }

/// The drawing as a program would write it that knows beforehand where everything stands.
class Bare {
public:
    explicit Bare(const RecordedBook& book) : doc_{HPDF_New(nullptr, nullptr)} {
        HPDF_SetCompressionMode(doc_, HPDF_COMP_ALL);
        HPDF_UseUTFEncodings(doc_);
        HPDF_SetCurrentEncoder(doc_, "UTF-8");
        const handover::FontFiles files;
        for (const auto* file : {&files.regular, &files.bold, &files.mono})
            faces_.push_back(HPDF_GetFont(doc_, HPDF_LoadTTFontFromFile(doc_, file->c_str(), HPDF_TRUE), "UTF-8"));
        int number = 0;
        auto picture = book.pictures.begin();
        for (const auto& sheet : book.sheets) {
            page_ = HPDF_AddPage(doc_);
            HPDF_Page_SetWidth(page_, pt(210));
            HPDF_Page_SetHeight(page_, pt(297));
            for (; picture != book.pictures.end() && picture->page == number; ++picture) {
                auto* image = HPDF_LoadJpegImageFromMem(doc_, reinterpret_cast<const HPDF_BYTE*>(picture->jpeg.data()), static_cast<HPDF_UINT>(picture->jpeg.size()));
                HPDF_Page_DrawImage(page_, image, pt(picture->box.left), up(picture->box.bottom()), pt(picture->box.width), pt(picture->box.height));
            }
            for (const auto& drawn : sheet.drawn()) std::visit([this](const auto& one) { draw(one); }, drawn);
            ++number;
        }
        HPDF_SaveToStream(doc_);
    }
    Bare(const Bare&) = delete;
    Bare& operator=(const Bare&) = delete;
    ~Bare() { HPDF_Free(doc_); }
    std::string bytes() {
        HPDF_UINT32 size = HPDF_GetStreamSize(doc_);
        std::string out(size, '\0');
        HPDF_ReadFromStream(doc_, reinterpret_cast<HPDF_BYTE*>(out.data()), &size);
        return out;
    }

private:
    static HPDF_REAL up(double y_mm) { return pt(297.0 - y_mm); }
    void pen(drawing::Stroke stroke) {
        const auto c = drawing::paper_colour(stroke.ink);
        HPDF_Page_SetRGBStroke(page_, static_cast<float>(c.red) / 255.0F, static_cast<float>(c.green) / 255.0F, static_cast<float>(c.blue) / 255.0F);
        HPDF_Page_SetLineWidth(page_, pt(stroke.width_mm));
    }
    void brush(drawing::Ink ink) {
        const auto c = drawing::paper_colour(ink);
        HPDF_Page_SetRGBFill(page_, static_cast<float>(c.red) / 255.0F, static_cast<float>(c.green) / 255.0F, static_cast<float>(c.blue) / 255.0F);
    }
    void trace(const std::vector<drawing::Point>& points) {
        for (std::size_t i = 0; i < points.size(); ++i)
            (i == 0 ? HPDF_Page_MoveTo : HPDF_Page_LineTo)(page_, pt(points[i].x), up(points[i].y));
    }
    void draw(const drawing::DrawnStroke& stroke) {
        pen(stroke.stroke);
        trace(stroke.points);
        if (stroke.ends == drawing::Ends::Closed) HPDF_Page_ClosePathStroke(page_);
        else HPDF_Page_Stroke(page_);
    }
    void draw(const drawing::DrawnFill& fill) {
        brush(fill.ink);
        trace(fill.points);
        HPDF_Page_Fill(page_);
    }
    void draw(const drawing::DrawnCircle& circle) {
        if (circle.stroke.width_mm > 0.0) pen(circle.stroke);
        else brush(circle.stroke.ink);
        HPDF_Page_Circle(page_, pt(circle.centre.x), up(circle.centre.y), pt(circle.radius_mm));
        if (circle.stroke.width_mm > 0.0) HPDF_Page_Stroke(page_);
        else HPDF_Page_Fill(page_);
    }
    void draw(const drawing::DrawnBox& box) {
        if (box.stroke.width_mm > 0.0) pen(box.stroke);
        else brush(box.stroke.ink);
        HPDF_Page_Rectangle(page_, pt(box.box.left), up(box.box.bottom()), pt(box.box.width), pt(box.box.height));
        if (box.stroke.width_mm > 0.0) HPDF_Page_Stroke(page_);
        else HPDF_Page_Fill(page_);
    }
    void draw(const drawing::DrawnText& text) {
        auto* face = faces_[static_cast<std::size_t>(text.style.weight)];
        brush(text.style.ink);
        HPDF_Page_BeginText(page_);
        HPDF_Page_SetFontAndSize(page_, face, pt(text.style.size_mm));
        HPDF_REAL x = pt(text.at.x);
        if (text.style.anchor != drawing::Anchor::Start) {
            const auto width = HPDF_Page_TextWidth(page_, text.words.c_str());
            x -= text.style.anchor == drawing::Anchor::End ? width : width / 2;
        }
        HPDF_Page_TextOut(page_, x, up(text.at.y), text.words.c_str());
        HPDF_Page_EndText(page_);
    }

    HPDF_Doc doc_;
    HPDF_Page page_ = nullptr;
    std::vector<HPDF_Font> faces_;
};

/// Texts with their place, size and face, shapes as lines, pictures as files: what any other engine needs to draw the same.
void write_drawing(const RecordedBook& book, const fs::path& folder) {
    fs::create_directories(folder);
    auto pages = nlohmann::json::array();
    for (const auto& sheet : book.sheets) {
        auto texts = nlohmann::json::array(), boxes = nlohmann::json::array(), lines = nlohmann::json::array();
        for (const auto& drawn : sheet.drawn()) {
            if (const auto* text = std::get_if<drawing::DrawnText>(&drawn))
                texts.push_back({text->at.x, text->at.y, text->words, text->style.size_mm, static_cast<int>(text->style.weight), static_cast<int>(text->style.anchor)});
            if (const auto* box = std::get_if<drawing::DrawnBox>(&drawn))
                boxes.push_back({box->box.left, box->box.top, box->box.width, box->box.height, box->stroke.width_mm});
            const auto* stroke = std::get_if<drawing::DrawnStroke>(&drawn);
            const auto* fill = std::get_if<drawing::DrawnFill>(&drawn);
            if (stroke == nullptr && fill == nullptr) continue;
            auto points = nlohmann::json::array();
            for (const auto& point : stroke != nullptr ? stroke->points : fill->points) points.push_back({point.x, point.y});
            lines.push_back({points, stroke != nullptr ? stroke->stroke.width_mm : 0.0});
        }
        pages.push_back({{"texts", texts}, {"boxes", boxes}, {"lines", lines}, {"pictures", nlohmann::json::array()}});
    }
    for (std::size_t i = 0; i < book.pictures.size(); ++i) {
        const auto& picture = book.pictures[i];
        const std::string name = fmt::format("{}.jpg", i);
        std::ofstream{folder / name, std::ios::binary} << picture.jpeg;
        pages[static_cast<std::size_t>(picture.page)]["pictures"].push_back({name, picture.box.left, picture.box.top, picture.box.width, picture.box.height});
    }
    std::ofstream{folder / "drawing.json"} << pages;
}

Result<handover::ReportInput> input_of(desk::Desk& desk, const std::string& job) {
    const auto hand = desk.in_hand(job);
    const auto view = desk.job_view(job);
    const auto entries = desk.journal().read_job(job);
    if (!hand) return tl::unexpected(hand.error());
    if (!view) return tl::unexpected(view.error());
    if (!entries) return tl::unexpected(entries.error());
    desk::ReportSurroundings around{.company = "Bench", .contact = "555-0100", .fingerprint = std::string(64, 'a'), .fingerprint_published = "",
                                    .date = "2026-11-27", .written = {}, .heads = {}, .files = {}};
    for (const auto& written : entries->entries)
        for (const auto* file : record::attached_in(written.entry.body))
            if (auto bytes = desk.journal().attachment(file->id)) around.files.emplace(file->id, std::move(*bytes));
    auto input = desk::report_input(*hand, *view, around);
    // Twelve pictures, the same again where the job has fewer.
    for (std::size_t i = 0; !input.photos.empty() && input.photos.size() < 12; ++i) input.photos.push_back(input.photos[i]);
    if (input.photos.size() > 12) input.photos.resize(12);
    return input;
}

/// The most memory this process had so far, for table.py.
int tell_peak(bool done) {
    std::ifstream in{"/proc/self/status"};
    for (std::string word; in >> word;)
        if (word == "VmHWM:" && in >> word) fmt::print("{{\"peak_kb\":{}}}\n", word);
    return done ? 0 : 4;
}

}  // namespace

int report(const fs::path& data, const std::string& way, const fs::path& into, double seconds) {
    const auto world = world_of(data);
    auto desk = app::open_desk(world, desk::Access::Read);
    if (!desk) return 4;
    const auto jobs = desk->job_rows();
    if (!jobs || jobs->empty()) return 4;
    const auto input = input_of(*desk, jobs->front().job);
    const auto& company = desk->journal().keys().company();
    if (!input || !company) {
        std::cerr << (input ? "no company key" : told(input.error())) << "\n";
        return 4;
    }
    const auto sealer = [&](std::string_view covered) { return digest::sign_detached(covered, *company); };
    RecordedBook book;
    if (way != "ours" && !handover::pour_report(book, *input)) return 4;
    if (way == "none") return tell_peak(true);
    // For the memory of each alone.
    if (way == "ours") return tell_peak(handover::seal_report(handover::draw_report(*input).value_or(""), sealer).has_value());
    if (way == "bare") return tell_peak(Bare{book}.bytes().size() > 100'000);
    write_drawing(book, into);
    std::ofstream{into / "bare.pdf", std::ios::binary} << Bare{book}.bytes();
    const auto name = fmt::format("{} pages, {} pictures", book.sheets.size(), book.pictures.size());
    tell("report drawn and sealed, " + name, times_of(30, seconds * 3, [&] { keep(handover::seal_report(handover::draw_report(*input).value_or(""), sealer)); }));
    tell("report drawn, without tags and seal, " + name, times_of(30, seconds * 3, [&] {
             handover::PdfBook drawn{{input->title, input->company, input->place, input->written}, input->fonts};
             keep(handover::pour_report(drawn, *input));
             keep(drawn.finished());
         }));
    tell("bare libharu, " + name, times_of(30, seconds * 3, [&] { keep(Bare{book}.bytes()); }));
    return 0;
}

}  // namespace wm::bench
