// The pick list on paper: two boxes a part, one for the store and one for the van, and the code by which it is ticked.
#include <fmt/format.h>

#include "checklist/words.hpp"
#include "desk/desk.hpp"
#include "desk/part_code.hpp"
#include "desk/pick_list.hpp"
#include "desk/reissue.hpp"
#include "drawing/text_block.hpp"
#include "handover/pdf_book.hpp"
#include "handover/square_code.hpp"

namespace wm::desk {

namespace {

using drawing::Anchor;
using drawing::Ink;
using drawing::TextStyle;
using drawing::Weight;

constexpr double left = 18.0;
constexpr double right = 192.0;
constexpr double bottom = 279.0;
constexpr double box_mm = 5.0;  // large enough for a gloved hand with a carpenter's pencil
constexpr double store_x = left;
constexpr double van_x = left + 11.0;
constexpr double code_mm = 13.0;  // a module is then a third of a millimetre, which a telephone reads from a hand's breadth
constexpr double code_x = left + 18.0;
constexpr double words_x = code_x + code_mm + 3.0;
constexpr double amount_x = 166.0;  // right edge of the amounts

class Sheet {
public:
    Sheet(handover::PdfBook& book, const PickListView& list, const std::string& company) : book_{book}, list_{list}, company_{company} {
        turn();
    }

    void heading(const std::string& words) {
        // A heading never stands alone at the foot of a page.
        if (y_ + 26.0 > bottom) turn();
        y_ += 4.0;
        page_->text({left, y_}, words, bold(4.2));
        y_ += 1.8;
        page_->line({left, y_}, {right, y_}, {.ink = Ink::Hairline, .width_mm = 0.25});
        y_ += 5.6;
    }

    void paragraph(const std::string& words) {
        for (const auto& line : drawing::wrapped(*page_, words, plain(3.1), right - left)) {
            page_->text({left, y_}, line, plain(3.1));
            y_ += drawing::leading_mm(plain(3.1));
        }
        y_ += 1.0;
    }

    void part(const PickRow& row) {
        const double width = amount_x - words_x - 24.0;
        const auto name = drawing::wrapped(*page_, row.name, bold(3.3), width);
        std::vector<std::string> below;
        const auto add = [&](const std::string& words) {
            if (words.empty()) return;
            for (auto& line : drawing::wrapped(*page_, words, plain(2.7), right - words_x)) below.push_back(std::move(line));
        };
        add(row.note);
        std::string how;
        for (const auto& line : row.how) how += (how.empty() ? "From: " : "; ") + line;
        add(how);
        for (const auto& doubt : row.in_doubt) add(doubt);
        if (!row.missing.empty()) add("Still to be known: " + checklist::listed(row.missing) + ".");
        const double tall = drawing::leading_mm(bold(3.3)) * static_cast<double>(name.size()) +
                            drawing::leading_mm(plain(2.7)) * static_cast<double>(below.size());
        if (y_ + std::max(tall, code_mm) > bottom) turn();
        boxes();
        tick(store_x, row.store);
        tick(van_x, row.van);
        const auto drawn = handover::draw_square_code(*page_, {code_x, y_ - box_mm + 0.2, code_mm, code_mm}, part_code({list_.job, row.part}));
        if (!drawn) trouble_ = drawn.error();
        auto amount = bold(3.6);
        amount.anchor = Anchor::End;
        page_->text({amount_x, y_}, row.amount.empty() ? "?" : row.amount, amount);
        page_->line({amount_x + 4.0, y_ + 0.8}, {right, y_ + 0.8}, {.ink = Ink::Hairline, .width_mm = 0.2});
        double at = y_;
        for (const auto& line : name) {
            page_->text({words_x, at}, line, bold(3.3));
            at += drawing::leading_mm(bold(3.3));
        }
        for (const auto& line : below) {
            page_->text({words_x, at}, line, plain(2.7, Ink::Faint));
            at += drawing::leading_mm(plain(2.7));
        }
        y_ = std::max(at + 2.4, y_ + code_mm);
    }

    void instrument(const PickInstrument& row) {
        if (y_ + box_mm > bottom) turn();
        boxes();
        page_->text({words_x, y_}, row.type, bold(3.3));
        const auto words = row.registered.empty() ? std::string{"none is registered for this job"} : checklist::listed(row.registered);
        page_->text({words_x + 52.0, y_}, drawing::fitted(*page_, words, plain(2.9), right - words_x - 52.0), plain(2.9));
        y_ += box_mm + 1.6;
    }

    void signature() {
        if (y_ + 22.0 > bottom) turn();
        y_ += 14.0;
        for (const auto& [x, words] : {std::pair{left, "Store: name and day"}, {left + 92.0, "Van: name and day"}}) {
            page_->line({x, y_}, {x + 80.0, y_}, {.ink = Ink::Text, .width_mm = 0.25});
            page_->text({x, y_ + 4.0}, words, plain(2.7, Ink::Faint));
        }
    }

    [[nodiscard]] const std::optional<Problem>& trouble() const { return trouble_; }

private:
    static TextStyle plain(double size_mm, Ink ink = Ink::Text) {
        return {.size_mm = size_mm, .weight = Weight::Regular, .ink = ink, .anchor = Anchor::Start};
    }
    static TextStyle bold(double size_mm) {
        return {.size_mm = size_mm, .weight = Weight::Bold, .ink = Ink::Text, .anchor = Anchor::Start};
    }

    void boxes() {
        for (const double x : {store_x, van_x})
            page_->stroke_box({x, y_ - box_mm + 1.2, box_mm, box_mm}, 0.0, {.ink = Ink::Text, .width_mm = 0.3});
    }

    /// What was ticked already: a hook where it was there, else a cross.
    void tick(double x, const std::optional<Tick>& said) {
        if (!said) return;
        const double top = y_ - box_mm + 1.2;
        const drawing::Stroke pen{.ink = Ink::Text, .width_mm = 0.6};
        if (said->said == Ticked::There) {
            page_->line({x + 1.0, top + 2.6}, {x + 2.1, top + 3.9}, pen);
            page_->line({x + 2.1, top + 3.9}, {x + 4.1, top + 1.0}, pen);
        } else {
            page_->line({x + 1.0, top + 1.0}, {x + 4.0, top + 4.0}, pen);
            page_->line({x + 1.0, top + 4.0}, {x + 4.0, top + 1.0}, pen);
        }
    }

    void turn() {
        page_ = &book_.add_page(handover::PaperSize::A4);
        page_->text({left, 12.0}, fmt::format("{} · parts for {}", company_, list_.job), plain(2.8, Ink::Faint));
        auto number = plain(2.8, Ink::Faint);
        number.anchor = Anchor::End;
        page_->text({right, 12.0}, fmt::format("page {}", book_.pages()), number);
        y_ = 20.0;
        page_->text({store_x, y_}, "Store", plain(2.7, Ink::Faint));
        page_->text({van_x, y_}, "Van", plain(2.7, Ink::Faint));
        auto needed = plain(2.7, Ink::Faint);
        needed.anchor = Anchor::End;
        page_->text({amount_x, y_}, "at least", needed);
        page_->text({amount_x + 4.0, y_}, "counted", plain(2.7, Ink::Faint));
        y_ = 28.0;
    }

    handover::PdfBook& book_;
    const PickListView& list_;
    const std::string& company_;
    drawing::Canvas* page_ = nullptr;
    std::optional<Problem> trouble_;
    double y_ = 0.0;
};

}  // namespace

Result<std::string> pick_sheet(Desk& desk, const PickListView& list) {
    const auto& setup = desk.setup();
    const std::string title = fmt::format("Parts for {}{}{}", list.job, list.place.empty() ? "" : ", ", list.place);
    handover::PdfBook book{{.title = title, .author = setup.company, .subject = "Pick list", .written = printed_moment(setup.now())},
                           setup.fonts};
    Sheet sheet{book, list, setup.company};
    sheet.heading(title);
    sheet.paragraph(fmt::format("Tick each part once at the store and once at the van, here or by a picture of its code. Amounts follow from what is known of this house "
                                "({} of the list of parts). Where the maker or the local code asks for more, that goes first.",
                                list.version));
    std::string group;
    for (const auto& row : list.rows) {
        if (row.check_title != group) sheet.heading(group = row.check_title);
        sheet.part(row);
    }
    if (!list.instruments.empty()) sheet.heading("Instruments, in date on the day");
    for (const auto& row : list.instruments) sheet.instrument(row);
    sheet.signature();
    if (sheet.trouble()) return refused(*sheet.trouble());
    return book.finished();
}

}  // namespace wm::desk
