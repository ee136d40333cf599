#include "handover/pdf_tags.hpp"

#include <doctest/doctest.h>

// Asks qpdf for its present pointer type; the library warns without it.
#define POINTERHOLDER_TRANSITION 4
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>

#include "handover/pdf_book.hpp"

// What other programs make of it: tests/whole/accessible_check.py.

using namespace wm;
using namespace wm::handover;

namespace {

using drawing::Ink;
using drawing::Weight;

/// One page: a heading, a shape, a figure with words in it, a paragraph of two lines.
std::pair<std::string, TagTree> drawn() {
    PdfBook book{{"T", "A", "", {}}, {}};
    drawing::Canvas& on = book.add_page(PaperSize::A4);
    start_tagging(on);
    {
        const TagScope part{on, Role::Heading};
        on.text({20, 20}, "Heading", {4.0});
    }
    on.fill_box({20, 22, 10, 1}, 0.0, Ink::Accent);
    {
        const TagScope part{on, Role::Figure, "a box and a word"};
        on.fill_box({20, 30, 10, 10}, 0.0, Ink::Accent);
        on.text({20, 45}, "word", {3.0});
    }
    on.text({20, 60}, "first line", {3.2});
    on.text({20, 64}, "second line", {3.2});
    return without_tree(*book.finished());
}

std::string content_of(QPDF& pdf) {
    const auto data = QPDFPageDocumentHelper(pdf).getAllPages().at(0).getObjectHandle().getKey("/Contents").getStreamData(
        qpdf_dl_generalized);
    return {reinterpret_cast<const char*>(data->getBuffer()), data->getSize()};
}

int count(const std::string& text, const std::string& words) {
    int found = 0;
    for (auto at = text.find(words); at != std::string::npos; at = text.find(words, at + 1)) ++found;
    return found;
}

}  // namespace

TEST_CASE("every stroke is in a part or is decoration, and no mark of ours is left") {
    const auto [file, tree] = drawn();
    REQUIRE(tree.size() == 3);
    CHECK(tree[2].role == Role::Paragraph);
    CHECK(tree[2].pieces.size() == 1);
    QPDF pdf;
    pdf.processMemoryFile("drawn", file.data(), file.size());
    add_structure(pdf, tree, 0);
    const std::string content = content_of(pdf);
    CHECK(content.find(" M\n") == std::string::npos);
    CHECK(count(content, " BDC\n") == 3);
    CHECK(count(content, "/Artifact BMC\n") == 1);
    CHECK(count(content, "EMC\n") == 4);
    CHECK(content.find("/H2 <</MCID 0>> BDC\n") < content.find("/Figure <</MCID 1>> BDC\n"));
}

TEST_CASE("the structure tree holds the parts in order and leads back from the page") {
    const auto [file, tree] = drawn();
    QPDF pdf;
    pdf.processMemoryFile("drawn", file.data(), file.size());
    add_structure(pdf, tree, 0);
    QPDFObjectHandle root = pdf.getRoot().getKey("/StructTreeRoot");
    QPDFObjectHandle parts = root.getKey("/K").getKey("/K");
    REQUIRE(parts.getArrayNItems() == 3);
    CHECK(parts.getArrayItem(0).getKey("/S").getName() == "/H2");
    CHECK(parts.getArrayItem(1).getKey("/Alt").getUTF8Value() == "a box and a word");
    CHECK(parts.getArrayItem(2).getKey("/S").getName() == "/P");
    QPDFObjectHandle numbers = root.getKey("/ParentTree").getKey("/Nums");
    REQUIRE(numbers.getArrayNItems() == 2);
    CHECK(numbers.getArrayItem(1).getArrayItem(2).getObjGen() == parts.getArrayItem(2).getObjGen());
    CHECK(pdf.getRoot().getKey("/MarkInfo").getKey("/Marked").getBoolValue());
}

TEST_CASE("without a tree nothing is added") {
    const auto [file, tree] = drawn();
    QPDF pdf;
    pdf.processMemoryFile("drawn", file.data(), file.size());
    add_structure(pdf, {}, 0);
    CHECK(!pdf.getRoot().hasKey("/StructTreeRoot"));
}
