#include "handover/pdf_rules.hpp"

#include <doctest/doctest.h>

// Asks qpdf for its present pointer type; the library warns without it.
#define POINTERHOLDER_TRANSITION 4
#include <algorithm>
#include <functional>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>

#include "handover/report.hpp"
#include "handover/testing.hpp"

using namespace wm;
using namespace wm::handover;

namespace {

using Change = std::function<void(QPDF&)>;

std::vector<std::string> reasons_after(const Change& change) {
    static const std::string report = *draw_report(handover::testing::sample_report(2));
    QPDF pdf;
    pdf.processMemoryFile("report", report.data(), report.size());
    change(pdf);
    return foreign_objects(pdf);
}

bool is_said(const std::vector<std::string>& reasons, const std::string& reason) {
    return std::find(reasons.begin(), reasons.end(), reason) != reasons.end();
}

QPDFObjectHandle first_page(QPDF& pdf) {
    return QPDFPageDocumentHelper(pdf).getAllPages().at(0).getObjectHandle();
}

QPDFObjectHandle of_kind(QPDF& pdf, const char* subtype) {
    for (QPDFObjectHandle object : pdf.getAllObjects()) {
        QPDFObjectHandle dictionary = object.isStream() ? object.getDict() : object;
        if (dictionary.isDictionary() && dictionary.getKey("/Subtype").isNameAndEquals(subtype)) {
            return dictionary;
        }
    }
    return QPDFObjectHandle::newNull();
}

}  // namespace

TEST_CASE("a report with photos holds nothing but what the rules list") {
    CHECK(reasons_after([](QPDF&) {}) == std::vector<std::string>{});
}

TEST_CASE("what is not on the list of a kind is foreign, whatever it would do") {
    // Source of the keys: ISO 32000-1:2008, tables 28 and 30 (from memory).
    for (const char* key : {"/CropBox", "/Rotate", "/AA", "/Thumb", "/PieceInfo", "/OfTomorrow"}) {
        CAPTURE(key);
        const auto reasons = reasons_after(
            [&](QPDF& pdf) { first_page(pdf).replaceKey(key, QPDFObjectHandle::newInteger(1)); });
        CHECK(is_said(reasons,
                      std::string{"An object holds "} + key + ", which ours never do."));
    }
    const auto catalog = reasons_after([](QPDF& pdf) {
        pdf.getRoot().replaceKey("/Names", QPDFObjectHandle::newDictionary());
    });
    CHECK(is_said(catalog, "The file's catalog holds /Names, which ours never do."));
}

TEST_CASE("an object that no page reaches is looked at too") {
    const auto reasons = reasons_after([](QPDF& pdf) {
        pdf.makeIndirectObject(QPDFObjectHandle::parse("<< /Type /OCG /Name (a) >>"));
    });
    CHECK(reasons == std::vector<std::string>{"An object is of the kind /OCG, which ours never are."});
}

TEST_CASE("a picture keeps no mask, no layer and no other picture") {
    for (const char* key : {"/SMask", "/OC", "/Alternates", "/F"}) {
        CAPTURE(key);
        CHECK(reasons_after([&](QPDF& pdf) {
                  of_kind(pdf, "/Image").replaceKey(key, QPDFObjectHandle::newDictionary());
              }).size() == 1);
    }
}

TEST_CASE("letters that copy as other letters are noticed") {
    const auto reasons = reasons_after([](QPDF& pdf) {
        std::string map = letters_as_text();
        map.replace(map.find("<0000> <00ff> <0000>"), 20, "<0000> <00ff> <0001>");
        of_kind(pdf, "/Type0").replaceKey("/ToUnicode", QPDFObjectHandle::newStream(&pdf, map));
    });
    CHECK(reasons == std::vector<std::string>{
                         "Letters copied from this file are not the letters it shows."});
}

TEST_CASE("the field of the seal has no size, and there is one") {
    const auto large = reasons_after([](QPDF& pdf) {
        of_kind(pdf, "/Widget").replaceKey("/Rect", QPDFObjectHandle::parse("[ 0 0 90 90 ]"));
    });
    CHECK(large == std::vector<std::string>{"The field of the seal covers a part of the page."});
    const auto second = reasons_after([](QPDF& pdf) {
        pdf.makeIndirectObject(of_kind(pdf, "/Widget").shallowCopy());
    });
    CHECK(second == std::vector<std::string>{"The file does not have exactly one field."});
}
