#include "handover/pdf_shape.hpp"

#include <doctest/doctest.h>

// Asks qpdf for its present pointer type; the library warns without it.
#define POINTERHOLDER_TRANSITION 4
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QPDFWriter.hh>

#include <functional>

#include "digest/seal.hpp"
#include "handover/report.hpp"
#include "handover/seal.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

const std::string& plain_report() {
    static const std::string made = *draw_report(handover::testing::sample_report(0));
    return made;
}

/// The report changed by someone with qpdf and then sealed with the company's own key.
std::string tampered(const std::function<void(QPDF&)>& change) {
    QPDF pdf;
    pdf.processMemoryFile("report", plain_report().data(), plain_report().size());
    change(pdf);
    QPDFWriter writer{pdf};
    writer.setOutputMemory();
    writer.setObjectStreamMode(qpdf_o_disable);
    writer.setStreamDataMode(qpdf_s_preserve);
    writer.setDeterministicID(true);
    writer.forcePDFVersion("1.7");
    writer.write();
    const auto buffer = writer.getBufferSharedPointer();
    const std::string file{reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize()};
    static const auto keys = handover::testing::sample_company();
    return *seal_report(file,
                        [](std::string_view bytes) { return digest::sign_detached(bytes, keys); });
}

bool is_refused_for(const std::string& file, const std::string& words) {
    const Attestation attested = attest_report(file);
    for (const std::string& reason : attested.reasons) {
        if (reason.find(words) != std::string::npos) return !attested.genuine;
    }
    return false;
}

}  // namespace

TEST_CASE("rewriting a report of ours gives the same bytes") {
    CHECK(read_shape(plain_report()).reasons.empty());
    CHECK(attest_report(tampered([](QPDF&) {})).genuine);
}

TEST_CASE("scripts, actions, layers and attached files are refused even under a good seal") {
    const auto with_key = [](const char* key, const char* value) {
        return tampered(
            [=](QPDF& pdf) { pdf.getRoot().replaceKey(key, QPDFObjectHandle::parse(value)); });
    };
    CHECK(is_refused_for(with_key("/OpenAction", "<< /S /JavaScript /JS (app.alert\\(1\\)) >>"),
                         "/OpenAction"));
    CHECK(is_refused_for(with_key("/OpenAction", "<< /S /JavaScript /JS (app.alert\\(1\\)) >>"),
                         "/JS"));
    CHECK(is_refused_for(with_key("/OCProperties", "<< /OCGs [ ] /D << >> >>"), "/OCProperties"));
    CHECK(is_refused_for(with_key("/Names", "<< /EmbeddedFiles << /Names [ ] >> >>"),
                         "/EmbeddedFiles"));
    CHECK(is_refused_for(with_key("/AA", "<< >>"), "/AA"));
    CHECK(is_refused_for(with_key("/Perms", "<< >>"), "/Perms"));
}

TEST_CASE("a second form field is refused") {
    const std::string file = tampered([](QPDF& pdf) {
        pdf.getRoot()
            .getKey("/AcroForm")
            .getKey("/Fields")
            .appendItem(pdf.makeIndirectObject(QPDFObjectHandle::parse("<< /FT /Tx /T (note) >>")));
    });
    CHECK(is_refused_for(file, "exactly one signature field"));
}

TEST_CASE("a number of pages that is not that of the pages is refused") {
    for (const int wrong : {0, 1, 9999}) {
        CAPTURE(wrong);
        const std::string file = tampered([&](QPDF& pdf) {
            pdf.getRoot().getKey("/Pages").replaceKey("/Count", QPDFObjectHandle::newInteger(wrong));
        });
        CHECK(is_refused_for(file, "another number of pages"));
    }
}

TEST_CASE("an object that nothing refers to is refused as hidden") {
    // Put in front of the cross-reference table by hand, with all offsets still right.
    const std::string& report = plain_report();
    const std::size_t table = report.rfind("xref\n", report.rfind("trailer"));
    REQUIRE(table != std::string::npos);
    std::string file = report;
    const std::string hidden = "% kept for later\n";
    file.insert(table, hidden);
    const std::size_t number = file.rfind("startxref\n") + 10;
    file.replace(number, file.find('\n', number) - number, std::to_string(table + hidden.size()));
    CHECK(!read_shape(file).reasons.empty());
}

TEST_CASE("a file with two places for a seal has none") {
    const std::string place = "/Contents <" + std::string(2 * seal_room, '0') + ">";
    CHECK(seal_slot("a " + place + " b"));
    CHECK(!seal_slot(place + place));
    CHECK(!seal_slot("/Contents <00>"));
}

TEST_CASE("bytes that are no PDF are read without a crash") {
    for (const char* bytes :
         {"", "%PDF-1.7\n", "%PDF-1.7\nxref\n0 1\ntrailer<<>>startxref\n9\n%%EOF\n"}) {
        CHECK(!read_shape(bytes).reasons.empty());
    }
    const auto result = with_empty_seal("not a PDF", {"J-1", "", "", {}});
    REQUIRE(!result);
    CHECK(result.error().where == "report of job J-1");
}
