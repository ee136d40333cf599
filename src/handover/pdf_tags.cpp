#include "handover/pdf_tags.hpp"

// Asks qpdf for its present pointer type; the library warns without it.
#define POINTERHOLDER_TRANSITION 4

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <map>
#include <numeric>
#include <qpdf/Buffer.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFObjectHandle.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>

namespace wm::handover {

namespace {

std::string_view name_of(Role role) {
    switch (role) {
        case Role::Title:
            return "/H1";
        case Role::Heading:
            return "/H2";
        case Role::Subheading:
            return "/H3";
        case Role::Paragraph:
            return "/P";
        case Role::Table:
            return "/Table";
        case Role::Row:
            return "/TR";
        case Role::HeadCell:
            return "/TH";
        case Role::Cell:
            return "/TD";
        case Role::Figure:
            return "/Figure";
        case Role::Artifact:
            return "/Artifact";
    }
    return "/P";
}

/// The operators of a page with each mark turned into marked content. Text on our pages is written
/// in hexadecimal, so no letter can look like an operator.
std::string with_marked_content(std::string_view drawn, const std::map<int, std::string_view>& runs) {
    constexpr std::string_view mark = " M\n";
    std::string out;
    std::size_t from = 0;
    for (std::size_t at = drawn.find(mark); at != std::string_view::npos;
         at = drawn.find(mark, at + mark.size())) {
        std::size_t number_at = at;
        while (number_at > 0 && drawn[number_at - 1] >= '0' && drawn[number_at - 1] <= '9') --number_at;
        int number = 0;
        std::from_chars(drawn.data() + number_at, drawn.data() + at, number);
        if (number < end_mark) continue;
        out += drawn.substr(from, number_at - from);
        if (number == end_mark) {
            out += "EMC\n";
        } else if (number == artifact_mark) {
            out += "/Artifact BMC\n";
        } else {
            const int run = number - first_run_mark;
            const auto found = runs.find(run);
            out += fmt::format("{} <</MCID {}>> BDC\n", found == runs.end() ? "/P" : found->second, run);
        }
        from = at + mark.size();
    }
    return out += drawn.substr(from);
}

class Structure {
public:
    Structure(QPDF& pdf, const TagTree& tree, int first_page) : pdf_{pdf}, tree_{tree} {
        const auto all = QPDFPageDocumentHelper(pdf).getAllPages();
        for (std::size_t i = static_cast<std::size_t>(first_page); i < all.size(); ++i) {
            pages_.push_back(all[i].getObjectHandle());
        }
        first_page_ = first_page;
    }

    void add() {
        prepare_root();
        make_elements();
        connect_elements();
        mark_pages();
    }

private:
    [[nodiscard]] const QPDFObjectHandle& page_of(const TagPiece& piece) const {
        return pages_.at(static_cast<std::size_t>(piece.page));
    }

    void prepare_root() {
        QPDFObjectHandle catalog = pdf_.getRoot();
        if (catalog.hasKey("/StructTreeRoot")) {
            root_ = catalog.getKey("/StructTreeRoot");
            document_ = root_.getKey("/K");
            return;
        }
        root_ = pdf_.makeIndirectObject(QPDFObjectHandle::parse("<< /Type /StructTreeRoot >>"));
        document_ = pdf_.makeIndirectObject(
            QPDFObjectHandle::parse("<< /Type /StructElem /S /Document /K [ ] >>"));
        document_.replaceKey("/P", root_);
        root_.replaceKey("/K", document_);
        root_.replaceKey("/ParentTree",
                         pdf_.makeIndirectObject(QPDFObjectHandle::parse("<< /Nums [ ] >>")));
        catalog.replaceKey("/StructTreeRoot", root_);
        catalog.replaceKey("/MarkInfo", QPDFObjectHandle::parse("<< /Marked true >>"));
    }

    void make_elements() {
        for (const TagNode& node : tree_) {
            QPDFObjectHandle element = QPDFObjectHandle::parse("<< /Type /StructElem /K [ ] >>");
            element.replaceKey("/S", QPDFObjectHandle::newName(std::string{name_of(node.role)}));
            if (!node.alternative.empty()) {
                element.replaceKey("/Alt", QPDFObjectHandle::newUnicodeString(node.alternative));
            }
            if (!node.language.empty()) element.replaceKey("/Lang", QPDFObjectHandle::newString(node.language));
            if (node.role == Role::HeadCell) {
                element.replaceKey("/A", QPDFObjectHandle::parse("<< /O /Table /Scope /Column >>"));
            }
            if (node.columns > 1) {
                element.replaceKey("/A", QPDFObjectHandle::parse(fmt::format(
                                             "<< /O /Table /ColSpan {} >>", node.columns)));
            }
            if (!node.pieces.empty()) element.replaceKey("/Pg", page_of(node.pieces.front()));
            elements_.push_back(pdf_.makeIndirectObject(element));
        }
    }

    void connect_elements() {
        for (std::size_t i = 0; i < tree_.size(); ++i) {
            for (const TagPiece& piece : tree_[i].pieces) {
                QPDFObjectHandle kid = QPDFObjectHandle::newInteger(piece.run);
                if (piece.page != tree_[i].pieces.front().page) {
                    kid = QPDFObjectHandle::parse(fmt::format("<< /Type /MCR /MCID {} >>", piece.run));
                    kid.replaceKey("/Pg", page_of(piece));
                }
                elements_[i].getKey("/K").appendItem(kid);
            }
        }
        // Page one is drawn last and read first: parts of the document go by the page they begin on.
        std::vector<std::size_t> order(tree_.size());
        std::iota(order.begin(), order.end(), 0U);
        std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            return begins_on(a) < begins_on(b);
        });
        for (const std::size_t i : order) {
            if (tree_[i].role == Role::Artifact) continue;
            const int parent = tree_[i].parent;
            QPDFObjectHandle over = parent < 0 ? document_ : elements_.at(static_cast<std::size_t>(parent));
            elements_[i].replaceKey("/P", over);
            over.getKey("/K").appendItem(elements_[i]);
        }
    }

    /// Of a part with parts inside, the page of the first of them; inside a part the order stays.
    [[nodiscard]] int begins_on(std::size_t node) const {
        if (tree_[node].parent >= 0) return 0;
        if (!tree_[node].pieces.empty()) return tree_[node].pieces.front().page;
        for (std::size_t i = node + 1; i < tree_.size(); ++i) {
            if (!tree_[i].pieces.empty() && is_inside(i, static_cast<int>(node))) {
                return tree_[i].pieces.front().page;
            }
        }
        return 0;
    }

    [[nodiscard]] bool is_inside(std::size_t node, int over) const {
        for (int up = tree_[node].parent; up >= 0; up = tree_[static_cast<std::size_t>(up)].parent) {
            if (up == over) return true;
        }
        return false;
    }

    void mark_pages() {
        std::vector<std::map<int, std::size_t>> owners(pages_.size());
        for (std::size_t i = 0; i < tree_.size(); ++i) {
            for (const TagPiece& piece : tree_[i].pieces) {
                owners.at(static_cast<std::size_t>(piece.page))[piece.run] = i;
            }
        }
        QPDFObjectHandle numbers = root_.getKey("/ParentTree").getKey("/Nums");
        for (std::size_t p = 0; p < pages_.size(); ++p) {
            std::map<int, std::string_view> names;
            QPDFObjectHandle parents = QPDFObjectHandle::newArray();
            for (const auto& [run, node] : owners[p]) {
                names[run] = name_of(tree_[node].role);
                parents.appendItem(elements_[node]);
            }
            QPDFObjectHandle content = pages_[p].getKey("/Contents");
            const auto drawn = content.getStreamData(qpdf_dl_generalized);
            content.replaceStreamData(
                with_marked_content({reinterpret_cast<const char*>(drawn->getBuffer()), drawn->getSize()},
                                    names),
                QPDFObjectHandle::newNull(), QPDFObjectHandle::newNull());
            const int key = first_page_ + static_cast<int>(p) + (first_page_ > 0 ? 1 : 0);
            pages_[p].replaceKey("/StructParents", QPDFObjectHandle::newInteger(key));
            numbers.appendItem(QPDFObjectHandle::newInteger(key));
            numbers.appendItem(pdf_.makeIndirectObject(parents));
        }
    }

    QPDF& pdf_;
    const TagTree& tree_;
    std::vector<QPDFObjectHandle> pages_;
    int first_page_ = 0;
    QPDFObjectHandle root_;
    QPDFObjectHandle document_;
    std::vector<QPDFObjectHandle> elements_;
};

}  // namespace

void add_structure(QPDF& pdf, const TagTree& tree, int first_page) {
    if (!tree.empty()) Structure{pdf, tree, first_page}.add();
}

}  // namespace wm::handover
