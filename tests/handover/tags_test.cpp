#include "handover/tags.hpp"

#include <doctest/doctest.h>

#include "drawing/recorded.hpp"

using namespace wm;
using namespace wm::handover;

TEST_CASE("the tree of the parts comes back as it was, and the file with it") {
    TagTree tree(3);
    tree[0].role = Role::Table;
    tree[1] = {.role = Role::Cell, .parent = 0, .columns = 6, .alternative = "", .pieces = {{2, 0}, {3, 11}}};
    tree[2] = {.role = Role::Figure, .parent = -1, .columns = 1, .alternative = "A roof, 30° steep", .pieces = {{0, 4}}};
    const auto [file, read] = without_tree(with_tree("%PDF-1.3\n%%EOF\n", tree));
    CHECK(file == "%PDF-1.3\n%%EOF\n");
    REQUIRE(read.size() == 3);
    CHECK(read[0].role == Role::Table);
    CHECK(read[1].parent == 0);
    CHECK(read[1].columns == 6);
    REQUIRE(read[1].pieces.size() == 2);
    CHECK(read[1].pieces[1].page == 3);
    CHECK(read[1].pieces[1].run == 11);
    CHECK(read[2].parent == -1);
    CHECK(read[2].alternative == "A roof, 30° steep");
}

TEST_CASE("a file without a tree stays as it is") {
    CHECK(with_tree("%%EOF\n", {}) == "%%EOF\n");
    CHECK(without_tree("%%EOF\n").first == "%%EOF\n");
    CHECK(without_tree("").second.empty());
}

TEST_CASE("a canvas that keeps no parts is drawn on as before") {
    drawing::RecordedCanvas canvas;
    start_tagging(canvas);
    const TagScope part{canvas, Role::Paragraph};
    CHECK(part.part() == -1);
    const TagScope again{canvas, part.part()};
    CHECK(canvas.drawn().empty());
}
