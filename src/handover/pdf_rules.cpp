#include "handover/pdf_rules.hpp"

// Asks qpdf for its present pointer type; the library warns without it.
#define POINTERHOLDER_TRANSITION 4

#include <fmt/format.h>

#include <algorithm>
#include <initializer_list>
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>
#include <set>
#include <string_view>

namespace wm::handover {

namespace {

using Keys = std::set<std::string, std::less<>>;

struct Kind {
    std::string_view type;
    std::string_view subtype;
    Keys keys;
};

/// Every kind of object a report has, and all keys it may have. Fonts and images are those the page
/// library writes, the rest is written by the pass before sealing.
const std::vector<Kind>& kinds() {
    static const std::vector<Kind> all{
        {"/Catalog",
         "",
         {"/AcroForm", "/Lang", "/Metadata", "/Outlines", "/PageLayout", "/PageMode", "/Pages",
          "/StructTreeRoot", "/MarkInfo", "/ViewerPreferences"}},
        {"/Pages", "", {"/Count", "/Kids", "/Parent"}},
        {"/Page",
         "",
         {"/Annots", "/Contents", "/MediaBox", "/Parent", "/Resources", "/StructParents", "/Tabs"}},
        {"/Metadata", "/XML", {"/Filter", "/Length"}},
        {"/StructTreeRoot", "", {"/K", "/ParentTree"}},
        {"/StructElem", "", {"/A", "/Alt", "/K", "/Lang", "/P", "/Pg", "/S"}},
        {"/MCR", "", {"/MCID", "/Pg"}},
        {"/OBJR", "", {"/Obj", "/Pg"}},
        {"/Annot", "/Widget", {"/F", "/FT", "/P", "/Rect", "/StructParent", "/T", "/TU", "/V"}},
        {"/Annot", "/Link", {"/Border", "/Dest", "/F", "/P", "/Rect"}},
        {"/Sig", "", {"/ByteRange", "/Contents", "/Filter", "/M", "/Name", "/SubFilter"}},
        {"/Font", "/Type0", {"/BaseFont", "/DescendantFonts", "/Encoding", "/ToUnicode"}},
        {"/Font",
         "/CIDFontType2",
         {"/BaseFont", "/CIDSystemInfo", "/CIDToGIDMap", "/DW", "/DW2", "/FontDescriptor", "/W"}},
        {"/FontDescriptor",
         "",
         {"/Ascent", "/CapHeight", "/Descent", "/Flags", "/FontBBox", "/FontFile2", "/FontName",
          "/ItalicAngle", "/StemV", "/XHeight"}},
        {"/XObject",
         "/Image",
         {"/BitsPerComponent", "/ColorSpace", "/Filter", "/Height", "/Length", "/Width"}},
        {"/Outlines",
         "",
         {"/Count", "/Dest", "/First", "/Last", "/Next", "/Parent", "/Prev", "/Title"}},
    };
    return all;
}

/// Objects that say no type: what the file says about itself, the form, resources, and streams.
const Keys& untyped_keys() {
    static const Keys all{
        "/Author",     "/CreationDate", "/Creator",         "/ModDate",        "/Producer",
        "/Subject",    "/Title",        "/WitnessmarkHead", "/WitnessmarkJob", "/WitnessmarkReissueOf", "/Fields",
        "/SigFlags",   "/Font",         "/ProcSet",         "/XObject",        "/Filter",
        "/Length",     "/Length1",      "/Length2",         "/Length3",        "/Ordering",
        "/Registry",   "/Supplement",   "/DisplayDocTitle", "/Count",          "/Dest",
        "/First",      "/Last",         "/Next",            "/Parent",         "/Prev",
        "/Marked",     "/Nums",         "/O",               "/Scope",          "/ColSpan"};
    return all;
}

/// Names the page library gives to fonts and images: F or X and a number.
bool is_resource_name(std::string_view key) {
    return key.size() > 2 && (key[1] == 'F' || key[1] == 'X') &&
           key.find_first_not_of("0123456789", 2) == std::string_view::npos;
}

std::string name_in(QPDFObjectHandle& object, const char* key) {
    QPDFObjectHandle value = object.getKey(key);
    return value.isName() ? value.getName() : "";
}

class Inspection {
public:
    explicit Inspection(QPDF& pdf) : pdf_{pdf} {}

    std::vector<std::string> reasons() {
        if (pdf_.isEncrypted()) say("The file is encrypted, which ours never are.");
        QPDFObjectHandle identity = pdf_.getTrailer().getKey("/ID");
        const bool is_one = identity.isArray() && identity.getArrayNItems() == 2 &&
                            identity.getArrayItem(0).unparse() == identity.getArrayItem(1).unparse();
        if (!is_one) say("The file has two identities: it was made from another one.");
        for (const std::string& key : pdf_.getTrailer().getKeys()) {
            if (key != "/ID" && key != "/Info" && key != "/Root" && key != "/Size") {
                say(fmt::format("The file's trailer holds {}, which ours never do.", key));
            }
        }
        waiting_ = pdf_.getAllObjects();
        while (!waiting_.empty()) {
            QPDFObjectHandle object = waiting_.back();
            waiting_.pop_back();
            look_at(object);
        }
        if (fields_ != 1) say("The file does not have exactly one field.");
        // Whoever believes the number would not open the file, or leave out pages.
        QPDFObjectHandle count = pdf_.getRoot().getKey("/Pages").getKey("/Count");
        const auto pages = static_cast<long long>(pdf_.getAllPages().size());
        if (!count.isInteger() || count.getIntValue() != pages) {
            say("The file says another number of pages than it has.");
        }
        return std::move(reasons_);
    }

private:
    void say(std::string reason) {
        if (std::find(reasons_.begin(), reasons_.end(), reason) == reasons_.end()) {
            reasons_.push_back(std::move(reason));
        }
    }

    /// Numbered objects are met on their own; what is written inside them is met here.
    void wait(const QPDFObjectHandle& object) {
        if (!object.isIndirect()) waiting_.push_back(object);
    }

    void look_at(QPDFObjectHandle& object) {
        if (object.isArray()) {
            for (const QPDFObjectHandle& item : object.getArrayAsVector()) wait(item);
        } else if (object.isStream()) {
            look_at_stream(object);
        } else if (object.isDictionary()) {
            look_at_dictionary(object);
        }
    }

    void look_at_stream(QPDFObjectHandle& stream) {
        QPDFObjectHandle dictionary = stream.getDict();
        look_at_dictionary(dictionary);
        QPDFObjectHandle filter = dictionary.getKey("/Filter");
        if (filter.isArray() && filter.getArrayNItems() == 1) filter = filter.getArrayItem(0);
        if (name_in(dictionary, "/Type") == "/Metadata" && !is_our_description(stream)) {
            say("The file describes itself in words that ours never do.");
        }
        const bool is_known = filter.isNull() || filter.isNameAndEquals("/FlateDecode") ||
                              filter.isNameAndEquals("/DCTDecode");
        if (!is_known) say("A stream is packed in a way ours never are.");
    }

    void look_at_dictionary(QPDFObjectHandle& dictionary) {
        const std::string type = name_in(dictionary, "/Type");
        const std::string subtype = name_in(dictionary, "/Subtype");
        const auto kind = std::find_if(kinds().begin(), kinds().end(), [&](const Kind& each) {
            return each.type == type && each.subtype == subtype;
        });
        const bool is_typed = kind != kinds().end();
        const bool is_foreign = !type.empty() && !is_typed;
        if (is_foreign) {
            say(fmt::format("An object is of the kind {}{}, which ours never are.", type, subtype));
        }
        for (const std::string& key : dictionary.getKeys()) {
            wait(dictionary.getKey(key));
            const bool names_the_kind = is_typed && (key == "/Type" || key == "/Subtype");
            const bool is_allowed =
                is_typed ? names_the_kind || kind->keys.count(key) > 0
                         : untyped_keys().count(key) > 0 || is_resource_name(key);
            if (is_allowed || is_foreign) continue;
            say(type == "/Catalog"
                    ? fmt::format("The file's catalog holds {}, which ours never do.", key)
                    : fmt::format("An object holds {}, which ours never do.", key));
        }
        look_closer(dictionary, subtype);
    }

    void look_closer(QPDFObjectHandle& dictionary, const std::string& subtype) {
        if (subtype == "/Widget") {
            ++fields_;
            QPDFObjectHandle box = dictionary.getKey("/Rect");
            const bool is_flat = box.isArray() && box.unparse() == "[ 0 0 0 0 ]";
            if (!is_flat) say("The field of the seal covers a part of the page.");
        }
        if (subtype == "/Type0" && !is_our_map(dictionary.getKey("/ToUnicode"))) {
            say("Letters copied from this file are not the letters it shows.");
        }
    }

    bool is_our_description(QPDFObjectHandle& stream) {
        QPDFObjectHandle about = pdf_.getTrailer().getKey("/Info");
        if (!about.isDictionary() || !about.getKey("/Title").isString()) return false;
        const auto data = stream.getStreamData(qpdf_dl_generalized);
        const std::string_view text{reinterpret_cast<const char*>(data->getBuffer()),
                                    data->getSize()};
        return text == description_of(about.getKey("/Title").getUTF8Value());
    }

    bool is_our_map(QPDFObjectHandle map) {
        if (!map.isStream()) return false;
        const bool known = maps_.count(map.getObjGen().getObj()) > 0;
        if (known) return true;
        const auto data = map.getStreamData(qpdf_dl_generalized);
        const std::string_view text{reinterpret_cast<const char*>(data->getBuffer()),
                                    data->getSize()};
        if (text != letters_as_text()) return false;
        maps_.insert(map.getObjGen().getObj());
        return true;
    }

    QPDF& pdf_;
    std::vector<QPDFObjectHandle> waiting_;
    std::vector<std::string> reasons_;
    std::set<int> maps_;
    int fields_ = 0;
};

}  // namespace

std::vector<std::string> foreign_objects(QPDF& pdf) {
    return Inspection{pdf}.reasons();
}

std::string description_of(const std::string& title) {
    std::string safe;
    for (const char c : title) {
        switch (c) {
            case '&':
                safe += "&amp;";
                break;
            case '<':
                safe += "&lt;";
                break;
            case '>':
                safe += "&gt;";
                break;
            default:
                safe += c;
        }
    }
    return fmt::format(
        "<?xpacket begin=\"\xef\xbb\xbf\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n"
        "<x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n"
        "<rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n"
        "<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\">\n"
        "<dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{}</rdf:li></rdf:Alt></dc:title>\n"
        "<dc:language><rdf:Bag><rdf:li>en</rdf:li></rdf:Bag></dc:language>\n"
        "</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>\n",
        safe);
}

std::string letters_as_text() {
    std::string map =
        "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
        "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
        "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
        "1 begincodespacerange\n<0000> <ffff>\nendcodespacerange\n";
    for (int first = 0; first < 256; first += 64) {
        map += "64 beginbfrange\n";
        for (int high = first; high < first + 64; ++high) {
            map += fmt::format("<{0:02x}00> <{0:02x}ff> <{0:02x}00>\n", high);
        }
        map += "endbfrange\n";
    }
    return map + "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n";
}

}  // namespace wm::handover
