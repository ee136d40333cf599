#include "handover/pdf_shape.hpp"

// Asks qpdf for its present pointer type; the library warns without it.
#define POINTERHOLDER_TRANSITION 4

#include <fmt/format.h>

#include <exception>
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QPDFWriter.hh>

#include "handover/pdf_rules.hpp"
#include "handover/pdf_tags.hpp"

namespace wm::handover {

namespace {

constexpr std::string_view range_placeholder = "/ByteRange [ 0 9999999999 9999999999 9999999999 ]";
constexpr std::string_view range_begin = "/ByteRange [ 0 ";
constexpr std::string_view contents_begin = "/Contents <";
constexpr std::size_t hex_digits = 2 * seal_room;

std::string pdf_date(const Moment& m) {
    const int zone = m.zone_minutes < 0 ? -m.zone_minutes : m.zone_minutes;
    return fmt::format("D:{:04}{:02}{:02}{:02}{:02}{:02}{}{:02}'{:02}'", m.year, m.month, m.day,
                       m.hour, m.minute, m.second, m.zone_minutes < 0 ? '-' : '+', zone / 60,
                       zone % 60);
}

/// "D:20270304091000+02'00'" as "2027-03-04T09:10:00+02:00"; empty if it is not of that form.
std::string rfc3339(const std::string& date) {
    if (date.size() != 23 || date.substr(0, 2) != "D:") return {};
    const auto part = [&](std::size_t from, std::size_t count) { return date.substr(from, count); };
    return fmt::format("{}-{}-{}T{}:{}:{}{}{}:{}", part(2, 4), part(6, 2), part(8, 2), part(10, 2),
                       part(12, 2), part(14, 2), part(16, 1), part(17, 2), part(20, 2));
}

void cure_fonts(QPDF& pdf) {
    QPDFObjectHandle map = QPDFObjectHandle::newStream(&pdf, letters_as_text());
    for (QPDFObjectHandle object : pdf.getAllObjects()) {
        if (object.isDictionary() && object.hasKey("/ToUnicode")) {
            object.replaceKey("/ToUnicode", map);
        }
    }
}

QPDFObjectHandle empty_seal(QPDF& pdf, const SealPlace& place) {
    QPDFObjectHandle seal = QPDFObjectHandle::newDictionary();
    seal.replaceKey("/Type", QPDFObjectHandle::newName("/Sig"));
    seal.replaceKey("/Filter", QPDFObjectHandle::newName("/Adobe.PPKLite"));
    seal.replaceKey("/SubFilter", QPDFObjectHandle::newName("/ETSI.CAdES.detached"));
    seal.replaceKey("/Name", QPDFObjectHandle::newUnicodeString(place.issuer));
    seal.replaceKey("/M", QPDFObjectHandle::newString(pdf_date(place.written)));
    constexpr long long wide = 9999999999;
    seal.replaceKey("/ByteRange",
                    QPDFObjectHandle::newArray(
                        {QPDFObjectHandle::newInteger(0), QPDFObjectHandle::newInteger(wide),
                         QPDFObjectHandle::newInteger(wide), QPDFObjectHandle::newInteger(wide)}));
    seal.replaceKey("/Contents", QPDFObjectHandle::newString(std::string(seal_room, '\0')));
    return pdf.makeIndirectObject(seal);
}

/// The field has no looks; a reader that speaks meets it at the end of the document.
void add_field_to_structure(QPDF& pdf, QPDFObjectHandle field, QPDFObjectHandle page, const std::string& language) {
    QPDFObjectHandle root = pdf.getRoot().getKey("/StructTreeRoot");
    if (!root.isDictionary()) return;
    const auto key = static_cast<long long>(QPDFPageDocumentHelper(pdf).getAllPages().size());
    QPDFObjectHandle element = pdf.makeIndirectObject(
        QPDFObjectHandle::parse("<< /Type /StructElem /S /Form /Alt (Seal of this report) >>"));
    if (language != "en") element.replaceKey("/Lang", QPDFObjectHandle::newString("en"));
    QPDFObjectHandle content = QPDFObjectHandle::parse("<< /Type /OBJR >>");
    content.replaceKey("/Obj", field);
    content.replaceKey("/Pg", page);
    element.replaceKey("/K", content);
    element.replaceKey("/P", root.getKey("/K"));
    root.getKey("/K").getKey("/K").appendItem(element);
    QPDFObjectHandle numbers = root.getKey("/ParentTree").getKey("/Nums");
    numbers.appendItem(QPDFObjectHandle::newInteger(key));
    numbers.appendItem(element);
    field.replaceKey("/StructParent", QPDFObjectHandle::newInteger(key));
    field.replaceKey("/TU", QPDFObjectHandle::newString("Seal of this report"));
    page.replaceKey("/Tabs", QPDFObjectHandle::newName("/S"));
}

void add_seal_field(QPDF& pdf, const SealPlace& place) {
    QPDFObjectHandle page = QPDFPageDocumentHelper(pdf).getAllPages().at(0).getObjectHandle();
    QPDFObjectHandle field = QPDFObjectHandle::parse(
        "<< /Type /Annot /Subtype /Widget /FT /Sig /T (Seal) /F 132 /Rect [ 0 0 0 0 ] >>");
    field.replaceKey("/P", page);
    field.replaceKey("/V", empty_seal(pdf, place));
    const QPDFObjectHandle reference = pdf.makeIndirectObject(field);
    page.replaceKey("/Annots", QPDFObjectHandle::newArray({reference}));
    add_field_to_structure(pdf, reference, page, place.language);
    QPDFObjectHandle form = QPDFObjectHandle::parse("<< /SigFlags 3 >>");
    form.replaceKey("/Fields", QPDFObjectHandle::newArray({reference}));
    QPDFObjectHandle catalog = pdf.getRoot();
    catalog.replaceKey("/AcroForm", pdf.makeIndirectObject(form));
    catalog.replaceKey("/Lang", QPDFObjectHandle::newString(place.language));
    catalog.replaceKey("/ViewerPreferences",
                       QPDFObjectHandle::parse("<< /DisplayDocTitle true >>"));
    QPDFObjectHandle about = pdf.getTrailer().getKey("/Info");
    about.replaceKey("/WitnessmarkJob", QPDFObjectHandle::newUnicodeString(place.job));
    about.replaceKey("/WitnessmarkHead", QPDFObjectHandle::newUnicodeString(place.head));
    if (!about.getKey("/Title").isString()) return;
    QPDFObjectHandle description =
        QPDFObjectHandle::newStream(&pdf, description_of(about.getKey("/Title").getUTF8Value()));
    description.getDict().replaceKey("/Type", QPDFObjectHandle::newName("/Metadata"));
    description.getDict().replaceKey("/Subtype", QPDFObjectHandle::newName("/XML"));
    catalog.replaceKey("/Metadata", description);
}

/// Streams of ours that are not packed yet are packed once; what is packed stays as it is.
enum class Packing { Once, Never };

std::string written(QPDF& pdf, Packing packing = Packing::Never) {
    QPDFWriter writer{pdf};
    writer.setOutputMemory();
    writer.setObjectStreamMode(qpdf_o_disable);
    writer.setDecodeLevel(qpdf_dl_none);
    writer.setCompressStreams(packing == Packing::Once);
    writer.setDeterministicID(true);
    writer.forcePDFVersion("1.7");
    writer.write();
    const auto buffer = writer.getBufferSharedPointer();
    return {reinterpret_cast<const char*>(buffer->getBuffer()), buffer->getSize()};
}

/// Strict: no guessing where a file is damaged.
void open_strictly(QPDF& pdf, std::string_view bytes) {
    pdf.setSuppressWarnings(true);
    pdf.setAttemptRecovery(false);
    pdf.processMemoryFile("report", bytes.data(), bytes.size());
}

/// Written twice: only then no object is left in an order that came from elsewhere.
std::string final_form(QPDF& pdf) {
    const std::string file = written(pdf, Packing::Once);
    QPDF again;
    open_strictly(again, file);
    again.getTrailer().removeKey("/ID");  // it named the first writing
    return written(again);
}

tl::unexpected<Problem> not_in_form(const std::exception& trouble, const SealPlace& place) {
    return refused(
        {.what = fmt::format("The report could not be brought into its final form ({}).",
                             trouble.what()),
         .where = "report of job " + place.job,
         .what_to_do = "Make the report again; if it happens again, leave out the "
                       "photos one by one.",
         .kind = ProblemKind::NotStored});
}

/// The seal is read from the form alone, so a second one elsewhere counts as a stranger.
void read_seal_field(QPDF& pdf, ShapeReading& reading) {
    QPDFObjectHandle fields = pdf.getRoot().getKey("/AcroForm").getKey("/Fields");
    if (!fields.isArray() || fields.getArrayNItems() != 1) {
        reading.reasons.emplace_back("The file does not have exactly one signature field.");
        return;
    }
    QPDFObjectHandle field = fields.getArrayItem(0);
    QPDFObjectHandle seal = field.getKey("/V");
    QPDFObjectHandle subfilter = seal.getKey("/SubFilter");
    const bool is_ours = field.getKey("/FT").isNameAndEquals("/Sig") && seal.isDictionary() &&
                         subfilter.isNameAndEquals("/ETSI.CAdES.detached");
    if (!is_ours) {
        reading.reasons.emplace_back("The signature field is not of the kind our files have.");
        return;
    }
    reading.issuer = seal.getKey("/Name").isString() ? seal.getKey("/Name").getUTF8Value() : "";
    reading.signed_at =
        seal.getKey("/M").isString() ? rfc3339(seal.getKey("/M").getStringValue()) : "";
    if (reading.signed_at.empty()) reading.reasons.emplace_back("The signing time cannot be read.");
}

std::string about_text(QPDF& pdf, const std::string& key) {
    QPDFObjectHandle about = pdf.getTrailer().getKey("/Info");
    if (!about.isDictionary() || !about.getKey(key).isString()) return {};
    return about.getKey(key).getUTF8Value();
}

}  // namespace

Result<std::string> with_empty_seal(std::string_view drawn, const SealPlace& place) {
    try {
        const auto [file, tree] = without_tree(drawn);
        QPDF pdf;
        open_strictly(pdf, file);
        cure_fonts(pdf);
        add_structure(pdf, tree, 0);
        add_seal_field(pdf, place);
        return final_form(pdf);
    } catch (const std::exception& trouble) {
        return not_in_form(trouble, place);
    }
}

Result<std::string> without_seal(std::string_view drawn, const SealPlace& place) {
    try {
        const auto [file, tree] = without_tree(drawn);
        QPDF pdf;
        open_strictly(pdf, file);
        cure_fonts(pdf);
        add_structure(pdf, tree, 0);
        return final_form(pdf);
    } catch (const std::exception& trouble) {
        return not_in_form(trouble, place);
    }
}

Result<std::string> with_sheet(std::string_view unsealed_file, std::string_view sheet,
                               const SealPlace& place, const std::string& first) {
    try {
        const auto [file, tree] = without_tree(sheet);
        QPDF added;
        open_strictly(added, file);
        cure_fonts(added);
        QPDF pdf;
        open_strictly(pdf, unsealed_file);
        const auto before = QPDFPageDocumentHelper(pdf).getAllPages().size();
        for (const auto& page : QPDFPageDocumentHelper(added).getAllPages()) {
            QPDFPageDocumentHelper(pdf).addPage(page, false);
        }
        add_structure(pdf, tree, static_cast<int>(before));
        QPDFObjectHandle field = pdf.getRoot().getKey("/AcroForm").getKey("/Fields").getArrayItem(0);
        field.replaceKey("/V", empty_seal(pdf, place));
        QPDFObjectHandle about = pdf.getTrailer().getKey("/Info");
        about.replaceKey("/WitnessmarkReissueOf", QPDFObjectHandle::newUnicodeString(first));
        about.replaceKey("/ModDate", QPDFObjectHandle::newString(pdf_date(place.written)));
        pdf.getTrailer().removeKey("/ID");
        return final_form(pdf);
    } catch (const std::exception& trouble) {
        return not_in_form(trouble, place);
    }
}

std::optional<SealSlot> seal_slot(std::string_view file) {
    std::optional<SealSlot> slot;
    for (std::size_t at = file.find(contents_begin); at != std::string_view::npos;
         at = file.find(contents_begin, at + 1)) {
        const std::size_t from = at + contents_begin.size() - 1;
        const std::size_t close = from + 1 + hex_digits;
        if (close >= file.size() || file[close] != '>') continue;
        if (file.substr(from + 1, hex_digits).find_first_not_of("0123456789abcdef") !=
            std::string_view::npos) {
            continue;
        }
        if (slot) return std::nullopt;
        slot = SealSlot{from, close + 1};
    }
    return slot;
}

std::string with_byte_range(std::string file, SealSlot slot) {
    const std::size_t at = file.find(range_begin);
    if (at == std::string::npos) return file;
    std::string range =
        fmt::format("{}{} {} {} ]", range_begin, slot.from, slot.to, file.size() - slot.to);
    range.insert(range.size() - 1, range_placeholder.size() - range.size(), ' ');
    return file.replace(at, range_placeholder.size(), range);
}

std::optional<std::string> unsealed(std::string file, SealSlot slot) {
    const std::size_t at = file.find(range_begin);
    if (at == std::string::npos || file.find("/ByteRange", at + 1) != std::string::npos ||
        file.find("/ByteRange") != at || at + range_placeholder.size() > file.size()) {
        return std::nullopt;
    }
    const std::string found = file.substr(at, range_placeholder.size());
    if (with_byte_range(file, slot).substr(at, range_placeholder.size()) != found) {
        return std::nullopt;
    }
    file.replace(at, range_placeholder.size(), range_placeholder);
    return file.replace(slot.from + 1, hex_digits, hex_digits, '0');
}

ShapeReading read_shape(const std::string& unsealed_file) {
    ShapeReading reading;
    try {
        QPDF pdf;
        open_strictly(pdf, unsealed_file);
        reading.reasons = foreign_objects(pdf);
        read_seal_field(pdf, reading);
        reading.job = about_text(pdf, "/WitnessmarkJob");
        reading.head = about_text(pdf, "/WitnessmarkHead");
        reading.reissue_of = about_text(pdf, "/WitnessmarkReissueOf");
        if (pdf.anyWarnings()) reading.reasons.emplace_back("The file's inner order is damaged.");
        if (written(pdf) != unsealed_file) {
            reading.reasons.emplace_back(
                "The file is not laid out as our files are: something was "
                "added, hidden or rearranged.");
        }
    } catch (const std::exception&) {
        reading.reasons.emplace_back("The file cannot be read as a PDF of one piece.");
    }
    return reading;
}

}  // namespace wm::handover
