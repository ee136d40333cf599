// The history of a house on paper, to be handed to whoever lives there next.
#include <fmt/format.h>

#include "checklist/words.hpp"
#include "desk/house_history.hpp"
#include "desk/reissue.hpp"
#include "drawing/text_block.hpp"
#include "handover/pdf_book.hpp"

namespace wm::desk {

namespace {

constexpr double left = 18.0;
constexpr double right = 192.0;
constexpr double bottom = 280.0;

class Page {
public:
    Page(handover::PdfBook& book, std::string head) : book_{book}, head_{std::move(head)} { turn(); }

    void heading(const std::string& words) {
        if (y_ + 20.0 > bottom) turn();
        y_ += 5.0;
        page_->text({left, y_}, words, style(4.4, drawing::Weight::Bold));
        y_ += 2.0;
        page_->line({left, y_}, {right, y_}, {.ink = drawing::Ink::Hairline, .width_mm = 0.25});
        y_ += 5.2;
    }
    void paragraph(const std::string& words, double indent = 0.0) {
        const auto plain = style(3.1, drawing::Weight::Regular);
        for (const auto& line : drawing::wrapped(*page_, words, plain, right - left - indent)) {
            if (y_ > bottom) turn();
            page_->text({left + indent, y_}, line, plain);
            y_ += drawing::leading_mm(plain);
        }
        y_ += 0.8;
    }

private:
    static drawing::TextStyle style(double size_mm, drawing::Weight weight) {
        return {.size_mm = size_mm, .weight = weight, .ink = drawing::Ink::Text, .anchor = drawing::Anchor::Start};
    }
    void turn() {
        page_ = &book_.add_page(handover::PaperSize::A4);
        y_ = 20.0;
        auto faint = style(2.8, drawing::Weight::Regular);
        faint.ink = drawing::Ink::Faint;
        page_->text({left, 12.0}, head_, faint);
        faint.anchor = drawing::Anchor::End;
        page_->text({right, 12.0}, fmt::format("page {}", book_.pages()), faint);
    }

    handover::PdfBook& book_;
    std::string head_;
    drawing::Canvas* page_ = nullptr;
    double y_ = 0.0;
};

void write_visit(Page& page, const HouseVisitView& visit) {
    page.paragraph(fmt::format("{}: {} ({}), {}. {} checks stand as right, by the checklist {}.", visit.day, visit.kind, visit.job, visit.state,
                               visit.conforming, visit.checklist));
    if (!visit.put_right.empty()) page.paragraph("Found wrong and put right: " + checklist::listed(visit.put_right) + ".", 6.0);
    for (const auto& one : visit.not_right) page.paragraph("Not right: " + one + ".", 6.0);
    for (const auto& report : visit.reports) page.paragraph("Report with SHA-256 " + report, 6.0);
}

void write_call(Page& page, const HouseCallView& call) {
    std::string text = fmt::format("{}: {}{} ({}).", call.day, call.symptom, call.air.empty() ? "" : " at " + call.air + " outside", call.complaint);
    if (call.closed.empty()) text += " Still open.";
    else {
        text += fmt::format(" {} on {}.", call.cause.empty() ? "Closed" : call.cause + ", closed", call.closed);
        if (!call.check.empty()) text += fmt::format(" Proved by: {}.", call.check);
    }
    page.paragraph(text);
}

}  // namespace

Result<std::string> house_page(Desk& desk, const HouseHistoryView& history) {
    const auto& setup = desk.setup();
    const std::string title = history.place.empty() ? "History of the house of " + history.job : "History of a house in " + history.place;
    handover::PdfBook book{{.title = title, .author = setup.company, .subject = "History of a house", .written = printed_moment(setup.now())},
                           setup.fonts};
    Page page{book, setup.company + " · " + history.job};
    page.heading(title);
    page.paragraph("All that is on record of the solar water heater of this house, for whoever lives there now. It names nobody who lived there "
                   "before. What is hot, under pressure or live is work for a licensed person; local codes decide.");
    page.heading("What was done");
    for (const auto& visit : history.visits) write_visit(page, visit);
    page.heading("What was complained of");
    if (history.calls.empty()) page.paragraph("Nothing.");
    for (const auto& call : history.calls) write_call(page, call);
    page.heading("What is fitted");
    for (const auto& [meaning, value] : history.fitted) page.paragraph(fmt::format("{}: {}", meaning, value));
    return book.finished();
}

}  // namespace wm::desk
