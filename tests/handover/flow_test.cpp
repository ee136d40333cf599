#include "handover/flow.hpp"

#include <doctest/doctest.h>

#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;
using handover::testing::RecordedBook;

TEST_CASE("a table longer than a page repeats its head on every page") {
    RecordedBook book;
    Flow flow{book, PaperSize::A4, {"left", "right", "foot"}};
    Table table{{{"Fact", 60.0}, {"Value", 60.0}}, {}};
    for (int i = 0; i < 150; ++i) {
        table.rows.push_back({{{{{std::to_string(i)}}, {}, {}}, {{{"x"}}, {}, {}}}, {}, 0.0});
    }
    flow.table(table);
    REQUIRE(book.pages() >= 3);
    for (std::size_t i = 0; i < book.leaves.size(); ++i) {
        CHECK(book.words_of_page(i).find("Fact") != std::string::npos);
    }
}

TEST_CASE("the last row of a table does not stand alone on its page") {
    for (int rows = 20; rows < 70; ++rows) {
        CAPTURE(rows);
        RecordedBook book;
        Flow flow{book, PaperSize::A4, {"left", "right", "foot"}};
        Table table{{{"Word", 60.0}}, {}};
        for (int i = 0; i < rows; ++i)
            table.rows.push_back({{{{{"row " + std::to_string(i)}}, {}, {}}}, {}, 0.0});
        flow.table(table);
        const std::string last = book.words_of_page(book.leaves.size() - 1);
        CHECK(last.find("row " + std::to_string(rows - 2) + " ") != std::string::npos);
    }
}

TEST_CASE("a row taller than a page goes on over the next, losing no word") {
    RecordedBook book;
    Flow flow{book, PaperSize::Letter, {"", "", ""}};
    std::string words;
    for (int i = 0; i < 3000; ++i) words += "w" + std::to_string(i) + " ";
    Table table{{{"Long", 60.0}}, {}};
    table.rows.push_back({{{{{words}}, {}, {}}}, {}, 0.0});
    flow.table(table);
    CHECK(book.pages() > 1);
    const std::string all = book.all_words();
    CHECK(all.find("w0 ") != std::string::npos);
    CHECK(all.find("w1499 ") != std::string::npos);
    CHECK(all.find("w2999 ") != std::string::npos);
}

TEST_CASE("a heading near the foot goes to the next page with what follows") {
    for (const double below_mm : {20.0, 45.0}) {
        CAPTURE(below_mm);
        RecordedBook book;
        Flow flow{book, PaperSize::A4, {"", "", ""}};
        flow.start_page();
        flow.gap(flow.content().height - below_mm);
        flow.heading("Signatures");
        flow.subheading("Of the crew");
        Table table{{{"Name", 60.0}}, {}};
        table.rows.push_back({{{{{"Tindo Quellaby"}}, {}, {}}}, {}, 25.0});
        flow.table(table);
        CHECK(book.pages() == 2);
        CHECK(book.marks == std::vector<std::string>{"Signatures"});
        CHECK(book.words_of_page(0).empty());
        CHECK(book.words_of_page(1) == "Signatures Of the crew Name Tindo Quellaby ");
    }
}

TEST_CASE("a heading with nothing under it is not drawn") {
    RecordedBook book;
    Flow flow{book, PaperSize::A4, {"", "", ""}};
    flow.heading("Empty part");
    flow.subheading("Empty piece");
    flow.heading("Full part");
    flow.subheading("Empty piece");
    flow.subheading("Full piece");
    flow.paragraph("words");
    CHECK(book.all_words() == "Full part Full piece words ");
    CHECK(book.marks == std::vector<std::string>{"Full part"});
}
