// What a printer looks at: nothing runs over anything else or off the sheet, and no head, no
// heading and no caption stands alone, on reports of every size.
#include <doctest/doctest.h>

#include "handover/generated.hpp"
#include "handover/report_pages.hpp"

using namespace wm;
using namespace wm::handover;
using handover::testing::GeneratedReport;
using handover::testing::RecordedBook;

namespace {

bool overlap(const drawing::Box& a, const drawing::Box& b) {
    constexpr double hair = 0.1;
    return a.left < b.right() - hair && b.left < a.right() - hair && a.top < b.bottom() - hair &&
           b.top < a.bottom() - hair;
}

/// Base lines of the words between the running head and the foot.
std::vector<double> base_lines(const drawing::RecordedCanvas& leaf, const drawing::Box& sheet) {
    std::vector<double> all;
    for (const auto& text : drawing::texts_of(leaf)) {
        if (text.at.y > 18.0 && text.at.y < sheet.height - 14.0) all.push_back(text.at.y);
    }
    return all;
}

/// The rules under table heads and headings: each wants words below it on the same page.
std::vector<double> rules_that_lead(const drawing::RecordedCanvas& leaf) {
    std::vector<double> all;
    for (const auto& drawn : leaf.drawn()) {
        const auto* line = std::get_if<drawing::DrawnStroke>(&drawn);
        if (line == nullptr || line->points.size() != 2) continue;
        const bool level = line->points[0].y == line->points[1].y;
        const bool head = line->stroke.ink == drawing::Ink::Text && line->stroke.width_mm == 0.3;
        const bool heading = line->stroke.ink == drawing::Ink::Accent && line->stroke.width_mm == 0.8;
        if (level && (head || heading)) all.push_back(line->points[0].y);
    }
    return all;
}

void check_page(const RecordedBook& book, std::size_t number, const drawing::Box& sheet) {
    const auto& leaf = *book.leaves[number];
    for (const std::string& what : drawing::outside(leaf, {8, 8, sheet.width - 16, sheet.height - 16})) {
        FAIL_CHECK("outside the sheet: ", what);
    }
    for (const std::string& pair : drawing::colliding_texts(leaf)) {
        FAIL_CHECK("on top of each other: ", pair);
    }
    if (number == 0) return;
    auto lines = base_lines(leaf, sheet);
    const double foot = sheet.height - 18.9;
    for (const double line : lines) CHECK(line < foot);
    for (std::size_t i = 0; i < book.pictures.size(); ++i) {
        if (book.picture_pages[i] == number) lines.push_back(book.pictures[i].bottom());
    }
    for (const double rule : rules_that_lead(leaf)) {
        const bool followed = std::any_of(lines.begin(), lines.end(), [&](double line) {
            return line > rule + 0.5 && line < rule + 70.0;
        });
        CAPTURE(rule);
        CHECK(followed);
    }
    // A subheading is bold and of the size `lead`; the last words of a page are none.
    double lowest = 0.0;
    double lowest_subheading = 0.0;
    for (const auto& text : drawing::texts_of(leaf)) {
        if (text.at.y >= sheet.height - 14.0) continue;
        lowest = std::max(lowest, text.at.y);
        if (text.style.weight == drawing::Weight::Bold && text.style.size_mm == letters::lead)
            lowest_subheading = std::max(lowest_subheading, text.at.y);
    }
    if (lowest_subheading > 0.0) CHECK(lowest > lowest_subheading);
}

void check_pictures(const RecordedBook& book, const drawing::Box& sheet) {
    for (std::size_t i = 0; i < book.pictures.size(); ++i) {
        const drawing::Box& picture = book.pictures[i];
        CHECK(picture.left >= 8.0);
        CHECK(picture.right() <= sheet.width - 8.0);
        CHECK(picture.bottom() <= sheet.height - 14.0);
        for (std::size_t j = i + 1; j < book.pictures.size(); ++j) {
            if (book.picture_pages[i] == book.picture_pages[j]) CHECK_FALSE(overlap(picture, book.pictures[j]));
        }
        for (const auto& text : drawing::texts_of(*book.leaves[book.picture_pages[i]])) {
            CAPTURE(text.words);
            CHECK_FALSE(overlap(picture, drawing::box_of(text)));
        }
    }
}

}  // namespace

TEST_CASE("on 200 reports of every size nothing collides, overflows or stands alone") {
    std::size_t most_photos = 0;
    std::size_t most_pages = 0;
    for (std::uint64_t seed = 1; seed <= 200; ++seed) {
        CAPTURE(seed);
        const ReportInput input = GeneratedReport{seed}.made();
        RecordedBook book;
        REQUIRE(pour_report(book, input));
        const drawing::Box sheet = sheet_of(input.paper);
        for (std::size_t number = 0; number < book.leaves.size(); ++number) {
            CAPTURE(number);
            check_page(book, number, sheet);
        }
        check_pictures(book, sheet);
        most_photos = std::max(most_photos, input.photos.size());
        most_pages = std::max(most_pages, book.leaves.size());
        CHECK(book.pictures.size() == input.photos.size());
    }
    CHECK(most_photos == 60);
    CHECK(most_pages > 40);
}
