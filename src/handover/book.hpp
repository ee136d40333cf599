// Pages one after the other, whatever becomes of them: a PDF file, or a recording in a test.
#pragma once

#include <string>
#include <string_view>

#include "drawing/canvas.hpp"

namespace wm::handover {

enum class PaperSize { A4, Letter };

/// Width and height of an upright sheet in millimetres.
[[nodiscard]] drawing::Box sheet_of(PaperSize paper);

class Book {
public:
    Book() = default;
    Book(const Book&) = delete;
    Book& operator=(const Book&) = delete;
    virtual ~Book() = default;

    /// Adds an empty page and gives its canvas, valid as long as the book.
    virtual drawing::Canvas& add_page(PaperSize paper) = 0;
    /// How many pages there are.
    [[nodiscard]] virtual int pages() const = 0;
    /// The canvas of an earlier page, counted from 0, to add what was not known before.
    [[nodiscard]] virtual drawing::Canvas& page(int index) = 0;
    /// Draws a picture into `box` of the newest page, stretched to fill it. The bytes must be a
    /// sound JPEG: photos come from photo::take_in, which re-encodes.
    virtual void place_jpeg(drawing::Box box, std::string_view jpeg) = 0;
    /// Adds a bookmark for the newest page.
    virtual void mark(const std::string& title) = 0;
};

}  // namespace wm::handover
