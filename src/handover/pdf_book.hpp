// Pages of a PDF file under way, each one a Canvas.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "drawing/canvas.hpp"
#include "problem/result.hpp"

namespace wm::handover {

enum class PaperSize { A4, Letter };

/// Width and height of an upright sheet in millimetres.
[[nodiscard]] drawing::Box sheet_of(PaperSize paper);

/// DejaVu Sans, its Bold and DejaVu Sans Mono; subsets of them are embedded.
struct FontFiles {
    std::string regular = "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf";
    std::string bold = "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf";
    std::string mono = "/usr/share/fonts/truetype/dejavu/DejaVuSansMono.ttf";
};

/// A wall-clock moment with the zone it was read in; every field is printed, none is computed.
struct Moment {
    int year = 2000, month = 1, day = 1, hour = 0, minute = 0, second = 0;
    int zone_minutes = 0;  ///< east of Greenwich positive
};

/// What stands in the file's own description.
struct BookFacts {
    std::string title, author, subject;
    Moment written;
};

/// Builds a file page by page. The same calls give the same bytes. Trouble of the library below is
/// kept and told by `finished`; drawing after it is harmless and draws nothing.
class PdfBook {
public:
    PdfBook(const BookFacts& facts, const FontFiles& fonts);
    PdfBook(PdfBook&&) noexcept;
    PdfBook& operator=(PdfBook&&) noexcept;
    ~PdfBook();

    /// Adds an empty page and gives its canvas, valid as long as the book.
    drawing::Canvas& add_page(PaperSize paper);
    /// How many pages there are.
    [[nodiscard]] int pages() const;
    /// The canvas of an earlier page, counted from 0, to add what was not known before.
    [[nodiscard]] drawing::Canvas& page(int index);
    /// Draws a picture into `box` of the newest page, stretched to fill it. The bytes must be a
    /// sound JPEG: photos come from photo::take_in, which re-encodes.
    void place_jpeg(drawing::Box box, std::string_view jpeg);
    /// Adds a bookmark for the newest page.
    void mark(const std::string& title);
    /// The whole file. A problem names the library's own words if anything went wrong on the way.
    [[nodiscard]] Result<std::string> finished();

private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

/// Text that the file can carry: valid UTF-8 of the basic plane, no control characters; anything
/// else becomes U+FFFD, visible and never dropped.
[[nodiscard]] std::string printable(std::string_view text);

}  // namespace wm::handover
