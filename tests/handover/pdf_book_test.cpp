#include "handover/pdf_book.hpp"

#include <doctest/doctest.h>

using namespace wm;
using namespace wm::handover;

TEST_CASE("what the file cannot carry becomes a visible sign, never nothing") {
    CHECK(printable("Ω ≤ 50 °C ✓ Żółw Ж") == "Ω ≤ 50 °C ✓ Żółw Ж");
    CHECK(printable("a\tb\x7f") ==
          "a\xef\xbf\xbd"
          "b\xef\xbf\xbd");
    CHECK(printable("\xff") == "\xef\xbf\xbd");
    CHECK(printable("\xf0\x9f\x94\xa5") == "\xef\xbf\xbd");
}

TEST_CASE("sheets have the sizes of ISO 216 and of North American letter paper") {
    // Source: ISO 216, A4; ANSI/ASME Y14.1, size A.
    CHECK(sheet_of(PaperSize::A4).width == 210.0);
    CHECK(sheet_of(PaperSize::A4).height == 297.0);
    CHECK(sheet_of(PaperSize::Letter).width == doctest::Approx(8.5 * 25.4));
    CHECK(sheet_of(PaperSize::Letter).height == doctest::Approx(11.0 * 25.4));
}

TEST_CASE("a book without a page or with a missing font says so instead of throwing") {
    PdfBook book{{"t", "a", "s", {}}, {"/nowhere.ttf", "/nowhere.ttf", "/nowhere.ttf"}};
    book.add_page(PaperSize::A4).text({10, 10}, "x", {});
    CHECK(!book.finished());
}
