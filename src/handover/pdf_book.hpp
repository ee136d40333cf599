// Pages of a PDF file under way.
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "handover/book.hpp"
#include "handover/font_files.hpp"
#include "problem/result.hpp"

namespace wm::handover {

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
class PdfBook final : public Book {
public:
    PdfBook(const BookFacts& facts, const FontFiles& fonts);
    ~PdfBook() override;

    drawing::Canvas& add_page(PaperSize paper) override;
    [[nodiscard]] int pages() const override;
    [[nodiscard]] drawing::Canvas& page(int index) override;
    void place_jpeg(drawing::Box box, std::string_view jpeg) override;
    void mark(const std::string& title) override;
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
